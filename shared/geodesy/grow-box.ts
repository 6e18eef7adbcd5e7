import type { BBox } from './lon-lat.ts';

/** One degree of latitude is at least this long on WGS84; longitude shrinks with the cosine. */
const DEGREE_M = 110_574;

/** A box in degrees with at least `byM` metres more on each side, as far as the globe goes; not across the antimeridian. */
export function growBox([west, south, east, north]: BBox, byM: number): BBox {
  const dLat = byM / DEGREE_M;
  const farthestNorth = Math.min(90, Math.max(Math.abs(south), Math.abs(north)) + dLat);
  const dLon = dLat / Math.max(0.001, Math.cos((farthestNorth * Math.PI) / 180));
  return [
    Math.max(-180, west - dLon),
    Math.max(-90, south - dLat),
    Math.min(180, east + dLon),
    Math.min(90, north + dLat),
  ];
}

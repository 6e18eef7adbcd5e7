/** A position in degrees on WGS84: `[longitude, latitude]`, as in RFC 7946. */
export type LonLat = readonly [lon: number, lat: number];

/** `[west, south, east, north]` in degrees, as in RFC 7946 §5. */
export type BBox = readonly [west: number, south: number, east: number, north: number];

/** Rounds to the 7 decimals (about 1 cm) that OSM stores and the exports carry. */
export function round7(degrees: number): number {
  return Math.round(degrees * 1e7) / 1e7;
}

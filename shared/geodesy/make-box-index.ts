import Flatbush from 'flatbush';
import type { BBox } from './lon-lat.ts';

/** One degree of latitude is at least this long on WGS84; longitude shrinks with the cosine. */
const DEGREE_M = 110_574;

/**
 * Makes the function that lists which boxes, by their place in the list and in its order, may come within `withinM`
 * metres of another one. Generous: it leaves out none that does. Not across the antimeridian.
 */
export function makeBoxIndex(boxes: readonly BBox[]): (near: BBox, withinM: number) => readonly number[] {
  if (boxes.length === 0) return () => [];
  const index = new Flatbush(boxes.length);
  for (const box of boxes) index.add(...box);
  index.finish();
  return ([west, south, east, north], withinM) => {
    const dLat = withinM / DEGREE_M;
    const farthestNorth = Math.max(Math.abs(south), Math.abs(north));
    const dLon = dLat / Math.max(0.05, Math.cos((farthestNorth * Math.PI) / 180));
    return index.search(west - dLon, south - dLat, east + dLon, north + dLat).sort((a, b) => a - b);
  };
}

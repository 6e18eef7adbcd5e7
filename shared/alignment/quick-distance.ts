import { boundsOf } from '../geodesy/bounds-of.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { Ruler } from './make-ruler.ts';

/*
 * Quick tests in plain degrees that say what surely lies far away, so that it need not be measured. They never say so
 * of anything that is not.
 */

/** A degree of latitude is nowhere shorter than 110,574 m on WGS84; less by 2 %, to stay on the safe side. */
export const MIN_DEGREE_M = 108_300;
export const SLACK_M = 1;
/** Along a longer segment a degree's length changes too much for these tests. */
export const LONG_SEGMENT_M = 1000;

const RAD = Math.PI / 180;

/**
 * How far a longitude is outside of the range from `a` to `b`, degrees; 0 inside, and where the range or the way to it
 * crosses the antimeridian, so that degrees tell nothing.
 */
export function lonGap(a: number, b: number, value: number): number {
  const apart = gap(a, b, value);
  return Math.abs(a - b) > 180 || apart > 180 ? 0 : apart;
}

/** How far a value is outside of the range from `a` to `b`; 0 inside. */
export function gap(a: number, b: number, value: number): number {
  const low = Math.min(a, b);
  const high = Math.max(a, b);
  return value < low ? low - value : value > high ? value - high : 0;
}

/** Makes the test whether a position surely lies farther from a line than so many metres: outside of its box. */
export function makeFarTest({ line, vertexM }: Ruler): (at: LonLat, distanceM: number) => boolean {
  const [west, south, east, north] = boundsOf([line]);
  if (vertexM.some((m, i) => m - (vertexM[i - 1] ?? 0) > LONG_SEGMENT_M)) return () => false;
  const northmost = Math.max(Math.abs(south), Math.abs(north));
  return ([lon, lat], distanceM) => {
    const reachM = distanceM + SLACK_M;
    if (gap(south, north, lat) * MIN_DEGREE_M > reachM) return true;
    const lonDegreeM = MIN_DEGREE_M * Math.cos(Math.max(northmost, Math.abs(lat)) * RAD);
    return lonGap(west, east, lon) * lonDegreeM > reachM;
  };
}

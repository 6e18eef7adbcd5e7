import type { LonLat } from '../geodesy/lon-lat.ts';
import { localDelta } from '../geodesy/segment.ts';
import type { Ruler } from './make-ruler.ts';

/**
 * Whether a position whose nearest place on a line is at `chainageM` lies more than `byM` metres past an end of the
 * line, in the line's own direction: then it is not beside it.
 */
export function isBeyond(ruler: Ruler, chainageM: number, at: LonLat, byM: number): boolean {
  if (chainageM > 0 && chainageM < ruler.lengthM) return false;
  const end = ruler.pointAt(chainageM);
  const direction = ruler.bearingAt(chainageM);
  if (!end.ok || !direction.ok) return true;
  const { east, north } = localDelta(end.value, at);
  const rad = (direction.value * Math.PI) / 180;
  return Math.abs(east * Math.sin(rad) + north * Math.cos(rad)) > byM;
}

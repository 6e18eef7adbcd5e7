import type { LonLat } from '../geodesy/lon-lat.ts';
import { moveBy } from '../geodesy/segment.ts';
import { done, type Result } from '../outcome/result.ts';
import type { Ruler } from './make-ruler.ts';

/**
 * The position beside a line: at a chainage, `offsetM` metres square to it, positive to the right of the
 * direction of chainage. Refused outside the line as `chainage-out-of-range`.
 */
export function placeBeside(ruler: Ruler, chainageM: number, offsetM: number): Result<LonLat> {
  const on = ruler.pointAt(chainageM);
  if (!on.ok) return on;
  const bearing = ruler.bearingAt(chainageM);
  if (!bearing.ok) return bearing;
  const rightRad = ((bearing.value + 90) * Math.PI) / 180;
  return done(moveBy(on.value, offsetM * Math.sin(rightRad), offsetM * Math.cos(rightRad)));
}

import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { moveBy } from '../../shared/geodesy/segment.ts';
import { seeded } from './compare.ts';

/** A winding line with vertices 5 to 50 m apart, the same for the same seed. */
export function wander(points: number, seed = 7, from: LonLat = [-20, 46]): LonLat[] {
  const random = seeded(seed);
  const line: LonLat[] = [from];
  let heading = 0;
  for (let i = 1; i < points; i += 1) {
    heading += (random() - 0.5) * 0.3;
    const stepM = 5 + 45 * random();
    line.push(moveBy(line[i - 1] as LonLat, stepM * Math.sin(heading), stepM * Math.cos(heading)));
  }
  return line;
}

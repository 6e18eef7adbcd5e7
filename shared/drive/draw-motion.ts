import type { Rules } from '../placement/rules.ts';
import type { Course } from './build-course.ts';
import { chanceOf } from './chance.ts';
import { cutNormalQuantile } from './normal-quantile.ts';

/** No car is driven slower than this share of the limit. */
const SLOWEST_SHARE = 0.1;

/** Which of a drive's numbers by chance is which. */
export const DRAWS = { speed: 0, slow: 1, slowPlace: 2, entryFix: 3, scan: 4, exitFix: 5 } as const;

/**
 * How one drive goes, in parts of constant speed; the arrays are used again for the next drive. `driftM`: how far the
 * estimate has run ahead since the entry portal where no fix is met, and `slope` how much more by each metre driven.
 */
export type Motion = {
  count: number;
  readonly fromM: Float64Array;
  readonly speedMps: Float64Array;
  readonly slope: Float64Array;
  readonly driftM: Float64Array;
  readonly atS: Float64Array;
};

/** Room for the motion of any drive of a course. */
export function makeMotion({ limits }: Course): Motion {
  const room = () => new Float64Array(3 * limits.length + 1);
  return { count: 0, fromM: room(), speedMps: room(), slope: room(), driftM: room(), atS: room() };
}

/**
 * Draws one drive: its share of the speed limit, and a slow stretch that overlaps the route where there is one. What is
 * assumed is the limit where the car truly is, or the speed at entry; satellites tell the speed again past the recovery.
 */
export function drawMotion(motion: Motion, course: Course, rules: Rules, key: number): void {
  const share = speedShare(rules, chanceOf(key, DRAWS.speed));
  const isSlow = chanceOf(key, DRAWS.slow) < rules.congestionShare;
  const slowShare = Math.min(share, rules.congestionSpeedShare);
  const { congestionLengthM: slowM, assumedSpeed } = rules;
  const slowFromM = isSlow ? chanceOf(key, DRAWS.slowPlace) * (course.lengthM + slowM) - slowM : 0;
  const slowToM = isSlow ? slowFromM + slowM : 0;
  const first = course.limits[0]?.limitMps as number;
  const entryMps = (isSlow && slowFromM <= 0 && slowToM > 0 ? slowShare : share) * first;
  motion.count = 0;
  for (const { fromM, toM, limitMps } of course.limits) {
    const assumedMps = assumedSpeed === 'limit' ? limitMps : entryMps;
    const cutM = Math.min(toM, Math.max(fromM, slowFromM));
    const onM = Math.min(toM, Math.max(cutM, slowToM));
    if (cutM > fromM) addPart(motion, fromM, share * limitMps, assumedMps);
    if (onM > cutM) addPart(motion, cutM, slowShare * limitMps, assumedMps);
    if (toM > onM) addPart(motion, onM, share * limitMps, assumedMps);
  }
  const lastMps = share * (course.limits.at(-1)?.limitMps as number);
  addPart(motion, course.recoveryM, lastMps, lastMps);
}

/** The part of a drive that a place lies in, from the part `from` on. */
export function findPart(motion: Motion, placeM: number, from = 0): number {
  let part = from;
  while (part + 1 < motion.count && (motion.fromM[part + 1] as number) <= placeM) part += 1;
  return part;
}

/** How far the estimate has run ahead at a place of a part, metres, where no fix was met. */
export function driftAtM(motion: Motion, placeM: number, part: number): number {
  const drivenM = placeM - (motion.fromM[part] as number);
  return (motion.driftM[part] as number) + drivenM * (motion.slope[part] as number);
}

function addPart(motion: Motion, fromM: number, speedMps: number, assumedMps: number): void {
  const part = motion.count;
  motion.count += 1;
  motion.fromM[part] = fromM;
  motion.speedMps[part] = speedMps;
  motion.slope[part] = assumedMps / speedMps - 1;
  motion.driftM[part] = part === 0 ? 0 : driftAtM(motion, fromM, part - 1);
  const before = part - 1;
  motion.atS[part] =
    part === 0
      ? 0
      : (motion.atS[before] as number) +
        (fromM - (motion.fromM[before] as number)) / (motion.speedMps[before] as number);
}

function speedShare({ speedShape, speedMeanShare, speedSpreadShare }: Rules, chance: number): number {
  const deviate = speedShape === 'normal' ? cutNormalQuantile(chance) : Math.sqrt(3) * (2 * chance - 1);
  return Math.max(SLOWEST_SHARE, speedMeanShare + speedSpreadShare * deviate);
}

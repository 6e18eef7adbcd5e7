import type { Fixes } from './draw-fixes.ts';
import { driftAtM, findPart, type Motion } from './draw-motion.ts';
import type { DecisionDrive } from './drive.ts';

/** Rounding that must not make a failure, metres. */
const SLACK_M = 1e-6;

export type Judged = Pick<DecisionDrive, 'atM' | 'announceM' | 'lateLimitM' | 'earlyLimitM'>;

/**
 * Whether the guidance of one drive fails at a decision point. Late: where the car is `lateLimitM` past the place at
 * which the instruction is due, no position shown so far has reached that place. Early: more than `earlyLimitM` before the
 * point, a position was shown that is past it. Exact for the error's straight pieces. A drive that is late is not early.
 */
export function judgeGuidance(
  motion: Motion,
  fixes: Fixes,
  { atM, announceM, lateLimitM, earlyLimitM }: Judged,
): 'late' | 'early' | undefined {
  const dueM = atM - announceM;
  // Due in the open air before the entry portal: satellites guide there.
  if (dueM > 0 && !showsBefore(motion, fixes, dueM + lateLimitM, dueM - SLACK_M)) return 'late';
  return showsBefore(motion, fixes, atM - earlyLimitM, atM + SLACK_M) ? 'early' : undefined;
}

/** Error of the position at a place, metres. */
export function errorAtM(motion: Motion, fixes: Fixes, placeM: number): number {
  let fix = 0;
  while (fix + 1 < fixes.count && (fixes.shownM[fix + 1] as number) <= placeM) fix += 1;
  return (fixes.offsetM[fix] as number) + driftAtM(motion, placeM, findPart(motion, placeM));
}

/** Whether a position at or past `shownM` is shown on the way to `untilM`: between two fixes it only goes forward. */
function showsBefore(motion: Motion, fixes: Fixes, untilM: number, shownM: number): boolean {
  const untilPathM = untilM + driftAtM(motion, untilM, findPart(motion, untilM));
  for (let fix = 0; fix < fixes.count && (fixes.shownM[fix] as number) <= untilM; fix += 1) {
    const isLast = fix + 1 === fixes.count || (fixes.shownM[fix + 1] as number) > untilM;
    const pathM = isLast ? untilPathM : (fixes.pathM[fix + 1] as number);
    if (pathM + (fixes.offsetM[fix] as number) >= shownM) return true;
  }
  return false;
}

import type { Rules } from '../placement/rules.ts';
import type { Course, Pass } from './build-course.ts';
import { chanceOf, joinKeys } from './chance.ts';
import { DRAWS, driftAtM, findPart, type Motion } from './draw-motion.ts';
import { type Miss, type makeMisses, scanRoundS } from './make-misses.ts';
import { normalQuantile } from './normal-quantile.ts';

/** Which of the numbers by chance of a drive and a beacon is which. */
export const BEACON_DRAWS = { failed: 0, missed: 1, error: 2 } as const;

/**
 * The fixes of one drive, the first at the entry portal: from `shownM` on the error is the drift plus `offsetM`. `pathM`
 * is the place shown there without the offset. The arrays are used again for the next drive.
 */
export type Fixes = {
  count: number;
  readonly shownM: Float64Array;
  readonly offsetM: Float64Array;
  readonly pathM: Float64Array;
};

/** Room for the fixes of any drive that meets so many beacons. */
export function makeFixes(beacons: number): Fixes {
  const room = () => new Float64Array(beacons + 2);
  return { count: 0, shownM: room(), offsetM: room(), pathM: room() };
}

/** What the drives of a course hear of its beacons. */
export type Listening = {
  readonly passes: readonly (Pass & { readonly miss: Miss })[];
  readonly roundS: number;
  /** Of the drive at hand, by beacon: where its fix is shown, metres; Infinity where it is not heard. */
  readonly shownM: Float64Array;
};

/** Prepares what the drives of a course may hear. */
export function prepareListening(
  course: Course,
  rules: Rules,
  misses: ReturnType<typeof makeMisses>,
): Listening {
  const passes = course.passes.map((pass) => ({ ...pass, miss: misses(pass.sender.otherBeacons) }));
  return { passes, roundS: scanRoundS(rules), shownM: new Float64Array(passes.length) };
}

/** The fixes without any beacon: the last one of the satellites at the entry portal, and their first past the exit. */
export function drawSatelliteFixes(
  fixes: Fixes,
  motion: Motion,
  course: Course,
  rules: Rules,
  key: number,
): void {
  startFixes(fixes, rules, key);
  addExitFix(fixes, motion, course, rules, key);
}

/**
 * The fixes with the beacons that work and are heard. A beacon is in range for twice its radius, outside a portal too
 * where the road is in its sight; it gives a fix where it stands, which is shown `latencyS` later at the speed there.
 * The scan's phase is drawn once for each drive and runs on, so that what one beacon misses the next may miss too.
 */
export function drawBeaconFixes(
  fixes: Fixes,
  motion: Motion,
  course: Course,
  rules: Rules,
  key: number,
  listening: Listening,
): void {
  startFixes(fixes, rules, key);
  const scan = chanceOf(key, DRAWS.scan);
  let part = 0;
  let lastM = 0;
  for (let i = 0; i < listening.passes.length; i += 1) {
    const { atM, sender, miss } = listening.passes[i] as Listening['passes'][number];
    part = findPart(motion, atM, part);
    listening.shownM[i] = Number.POSITIVE_INFINITY;
    const own = joinKeys(key, sender.key);
    if (chanceOf(own, BEACON_DRAWS.failed) < rules.failureShare) continue;
    const speedMps = motion.speedMps[part] as number;
    const rangeS = (2 * sender.radiusM) / speedMps;
    const endRounds = scan + (timeAtS(motion, atM, part) + rangeS / 2) / listening.roundS;
    if (chanceOf(own, BEACON_DRAWS.missed) < miss(rangeS, endRounds)) continue;
    const shownM = Math.max(lastM, atM + speedMps * rules.latencyS);
    // Satellites know better by then.
    if (shownM >= course.recoveryM) continue;
    listening.shownM[i] = shownM;
    lastM = shownM;
    const errorM = rules.beaconFixErrorM * normalQuantile(chanceOf(own, BEACON_DRAWS.error));
    addFix(fixes, motion, shownM, atM + errorM - shownM, findPart(motion, shownM, part));
  }
  addExitFix(fixes, motion, course, rules, key);
}

/** When a drive comes to a place of a part, seconds from the entry portal. */
export function timeAtS(motion: Motion, placeM: number, part: number): number {
  return (
    (motion.atS[part] as number) +
    (placeM - (motion.fromM[part] as number)) / (motion.speedMps[part] as number)
  );
}

/** A receiver corrects satellite fixes for their latency with the speed that they give: the last one has none. */
function startFixes(fixes: Fixes, rules: Rules, key: number): void {
  fixes.count = 1;
  fixes.shownM[0] = 0;
  fixes.pathM[0] = 0;
  fixes.offsetM[0] = rules.portalFixErrorM * normalQuantile(chanceOf(key, DRAWS.entryFix));
}

function addExitFix(fixes: Fixes, motion: Motion, course: Course, rules: Rules, key: number): void {
  const errorM = rules.portalFixErrorM * normalQuantile(chanceOf(key, DRAWS.exitFix));
  addFix(fixes, motion, course.recoveryM, errorM, motion.count - 1);
}

function addFix(fixes: Fixes, motion: Motion, shownM: number, errorM: number, part: number): void {
  const driftM = driftAtM(motion, shownM, part);
  fixes.shownM[fixes.count] = shownM;
  fixes.offsetM[fixes.count] = errorM - driftM;
  fixes.pathM[fixes.count] = shownM + driftM;
  fixes.count += 1;
}

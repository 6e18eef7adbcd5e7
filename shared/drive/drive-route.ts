import type { Rules } from '../placement/rules.ts';
import type { Course } from './build-course.ts';
import { joinKeys } from './chance.ts';
import type { Fixes } from './draw-fixes.ts';
import { drawBeaconFixes, drawSatelliteFixes, type Listening, makeFixes } from './draw-fixes.ts';
import type { Motion } from './draw-motion.ts';
import { drawMotion, makeMotion } from './draw-motion.ts';
import type { Both } from './drive.ts';

/** One drive as it went: the same car on the same day without the beacons and with them. */
export type Driven = {
  readonly drive: number;
  /** All that this drive draws is drawn from its key. */
  readonly key: number;
  readonly motion: Motion;
  readonly fixes: Both<Fixes>;
};

/** Drives a course so many times and shows each drive to `note`; what it shows is overwritten by the next one. */
export function driveRoute(
  course: Course,
  rules: Rules,
  listening: Listening,
  { drives, seed }: { readonly drives: number; readonly seed: number },
  note: (driven: Driven) => void,
): void {
  const motion = makeMotion(course);
  const fixes = { without: makeFixes(0), with: makeFixes(course.passes.length) };
  const routeKey = joinKeys(seed, course.key);
  for (let drive = 0; drive < drives; drive += 1) {
    const key = joinKeys(routeKey, drive);
    drawMotion(motion, course, rules, key);
    drawSatelliteFixes(fixes.without, motion, course, rules, key);
    drawBeaconFixes(fixes.with, motion, course, rules, key, listening);
    note({ drive, key, motion, fixes });
  }
}

import type { Rules } from '../placement/rules.ts';
import type { Course } from './build-course.ts';
import { chanceOf, joinKeys } from './chance.ts';
import { BEACON_DRAWS, type Listening, timeAtS } from './draw-fixes.ts';
import { DRAWS, findPart, type Motion } from './draw-motion.ts';
import type { BranchConfusion } from './drive.ts';
import type { Fork } from './list-forks.ts';
import { takePercentiles, toCentimetres } from './percentiles.ts';

/** Gathers the drives past one fork. */
export type ForkTally = {
  readonly note: (drive: number, motion: Motion, listening: Listening, key: number) => void;
  readonly sum: () => BranchConfusion;
};

/**
 * Tallies how far past a fork a driver is shown on a sister branch: until the fix of the first beacon that tells the
 * branch is shown; without one until satellites have recovered past this branch's exit portal. A drive is put on a
 * sister where a beacon of hers was heard past the fork and has fallen silent before the first of this branch is met.
 */
export function tallyFork(fork: Fork, course: Course, rules: Rules, drives: number): ForkTally {
  const confusedM = new Float64Array(drives);
  const withoutM = course.recoveryM - fork.atM;
  let wrong = 0;
  return {
    note: (drive, motion, listening, key) => {
      const first = fork.own.find(({ pass }) => Number.isFinite(listening.shownM[pass] as number));
      const telling = fork.own.find(
        ({ pass, tells }) => tells && Number.isFinite(listening.shownM[pass] as number),
      );
      confusedM[drive] =
        telling === undefined ? withoutM : (listening.shownM[telling.pass] as number) - fork.atM;
      const firstM =
        first === undefined ? Number.POSITIVE_INFINITY : (course.passes[first.pass]?.atM as number);
      if (hearsStrange(fork, motion, listening, rules, key, firstM)) wrong += 1;
    },
    sum: () => {
      const always = toCentimetres(withoutM);
      return {
        osmNode: fork.osmNode,
        linkId: fork.linkId,
        confusedM: {
          without: { p5: always, p50: always, p95: always },
          with: takePercentiles(confusedM),
        },
        wrongShare: { without: 0, with: wrong / drives },
      };
    },
  };
}

/** Whether a sister's beacon is received on this branch and lost again before the branch's own first one is met. */
function hearsStrange(
  fork: Fork,
  motion: Motion,
  { roundS }: Listening,
  rules: Rules,
  key: number,
  firstM: number,
): boolean {
  return fork.strange.some(({ sender, reachM, miss }) => {
    const lostM = fork.atM + reachM;
    if (lostM >= firstM) return false;
    const own = joinKeys(key, sender.key);
    if (chanceOf(own, BEACON_DRAWS.failed) < rules.failureShare) return false;
    const part = findPart(motion, lostM);
    const endRounds = chanceOf(key, DRAWS.scan) + timeAtS(motion, lostM, part) / roundS;
    const rangeS = reachM / (motion.speedMps[part] as number);
    return chanceOf(own, BEACON_DRAWS.missed) >= miss(rangeS, endRounds);
  });
}

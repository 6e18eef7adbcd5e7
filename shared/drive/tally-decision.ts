import type { Fixes } from './draw-fixes.ts';
import type { Motion } from './draw-motion.ts';
import type { Both, DecisionDrive, Failures, Percentiles } from './drive.ts';
import { errorAtM, judgeGuidance } from './judge-guidance.ts';
import type { DecisionAhead } from './list-decisions.ts';
import { takePercentiles } from './percentiles.ts';

/** Gathers the drives that meet one decision point. */
export type DecisionTally = {
  readonly note: (drive: number, motion: Motion, fixes: Both<Fixes>) => void;
  readonly sum: () => DecisionDrive;
};

/** Tallies failures and errors where the instruction is due, or at the entry portal where that lies farther on. */
export function tallyDecision(decision: DecisionAhead, drives: number): DecisionTally {
  const without = tallyOne(decision, drives);
  const withBeacons = tallyOne(decision, drives);
  return {
    note: (drive, motion, fixes) => {
      without.note(drive, motion, fixes.without);
      withBeacons.note(drive, motion, fixes.with);
    },
    sum: () => {
      const [one, other] = [without.sum(), withBeacons.sum()];
      return {
        ...decision,
        failures: { without: one.failures, with: other.failures },
        errorM: { without: one.errorM, with: other.errorM },
      };
    },
  };
}

function tallyOne(decision: DecisionAhead, drives: number) {
  const dueM = Math.max(0, decision.atM - decision.announceM);
  const errorsM = new Float64Array(drives);
  const counts = { late: 0, early: 0 };
  return {
    note: (drive: number, motion: Motion, fixes: Fixes) => {
      errorsM[drive] = errorAtM(motion, fixes, dueM);
      const failure = judgeGuidance(motion, fixes, decision);
      if (failure !== undefined) counts[failure] += 1;
    },
    sum: (): { failures: Failures; errorM: Percentiles } => ({
      failures: { late: counts.late / drives, early: counts.early / drives },
      errorM: takePercentiles(errorsM),
    }),
  };
}

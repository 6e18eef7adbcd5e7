import type { Fixes } from './draw-fixes.ts';
import type { Motion } from './draw-motion.ts';
import type { Both, DecisionDrive, Failures, Percentiles } from './drive.ts';
import { errorAtM, judgeGuidance } from './judge-guidance.ts';
import type { DecisionAhead } from './list-decisions.ts';
import { takePercentiles } from './percentiles.ts';

/** How much of one drive is misguided already, 0 to 1: that grows from decision point to decision point. */
export type MisguidedSoFar = { without: number; with: number };

/** Gathers the drives that meet one decision point. */
export type DecisionTally = {
  readonly note: (drive: number, motion: Motion, fixes: Both<Fixes>, soFar: MisguidedSoFar) => void;
  readonly sum: () => DecisionDrive;
};

/** Tallies failures and errors where the instruction is due, or at the entry portal where that lies farther on. */
export function tallyDecision(decision: DecisionAhead, drives: number): DecisionTally {
  const without = tallyOne(decision, drives);
  const withBeacons = tallyOne(decision, drives);
  return {
    note: (drive, motion, fixes, soFar) => {
      soFar.without = without.note(drive, motion, fixes.without, soFar.without);
      soFar.with = withBeacons.note(drive, motion, fixes.with, soFar.with);
    },
    sum: () => {
      const [one, other] = [without.sum(), withBeacons.sum()];
      return {
        ...decision,
        failures: { without: one.failures, with: other.failures },
        misguidedShare: { without: one.misguidedShare, with: other.misguidedShare },
        errorM: { without: one.errorM, with: other.errorM },
      };
    },
  };
}

function tallyOne(decision: DecisionAhead, drives: number) {
  const dueM = Math.max(0, decision.atM - decision.announceM);
  const errorsM = new Float64Array(drives);
  const counts = { late: 0, early: 0 };
  let misguided = 0;
  return {
    note: (drive: number, motion: Motion, fixes: Fixes, soFar: number): number => {
      errorsM[drive] = errorAtM(motion, fixes, dueM);
      const failure = judgeGuidance(motion, fixes, decision);
      if (failure === undefined) return soFar;
      counts[failure] += 1;
      const after = Math.min(1, soFar + decision.reachShare);
      misguided += after - soFar;
      return after;
    },
    sum: (): { failures: Failures; misguidedShare: number; errorM: Percentiles } => ({
      failures: { late: counts.late / drives, early: counts.early / drives },
      misguidedShare: misguided / drives / decision.reachShare,
      errorM: takePercentiles(errorsM),
    }),
  };
}

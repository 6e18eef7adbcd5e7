import type { Highs } from 'highs';
import { solveBinaries } from '../solver/solve-binaries.ts';
import { planByRatio } from './programme-greedy.ts';
import { listNames, toAssignment, toBudgetLp, toGainLp, toNames } from './programme-lp.ts';
import {
  type Assignment,
  countYears,
  findDearest,
  isWithin,
  type ProgrammeModel,
  worthOf,
} from './programme-model.ts';

/** Rows are kept to this, as their numbers are whole ones. */
const TOLERANCE = 1e-9;
/** The solver stops where its bound is within 1e-6 of what it has, on the model's scale of 1000. */
const PROOF_SLACK = 2e-6;
/** What counts as an improvement, on the same scale. */
const LEAST_STEP = 1e-5;

export type Solver = { readonly highs: Highs; readonly timeLimitS: number };

export type ProgrammeAnswer = {
  readonly assignment: Assignment;
  /** No assignment has a greater value. */
  readonly bound: number;
  readonly isProven: boolean;
};

/**
 * The assignment of the greatest value under a budget for each year, in the model's units: the simple order or the best
 * of `known` (all of which keep the limits) where the solver finds none that is better.
 */
export function solveProgramme(
  model: ProgrammeModel,
  budget: number,
  known: readonly Assignment[],
  { highs, timeLimitS }: Solver,
): ProgrammeAnswer {
  const start = [planByRatio(model, budget), ...known].reduce((best, other) =>
    worthOf(model, other) > worthOf(model, best) + PROOF_SLACK ? other : best,
  );
  const everything = model.items.reduce(
    (sum, { cost, gain }) => sum + (cost <= budget ? gain * countYears(model, 1) : 0),
    0,
  );
  if (everything <= worthOf(model, start) + PROOF_SLACK) return toAnswer(model, start, everything);
  const { chosen, bound } = solveBinaries(highs, toGainLp(model, budget), {
    names: listNames(model, budget),
    start: toNames(start),
    timeLimitS,
    tolerance: TOLERANCE,
  });
  const found = chosen === undefined ? start : toAssignment(model, chosen);
  const isBetter =
    isWithin(model, found, budget) && worthOf(model, found) > worthOf(model, start) + PROOF_SLACK;
  return toAnswer(model, isBetter ? found : start, Number.isFinite(bound) ? bound : everything);
}

function toAnswer(model: ProgrammeModel, assignment: Assignment, bound: number): ProgrammeAnswer {
  const value = worthOf(model, assignment);
  const isProven = bound <= value + PROOF_SLACK;
  return { assignment, bound: isProven ? value : bound, isProven };
}

/**
 * The least budget for each year, above `budget`, with which an assignment is worth more than `value`, in the model's
 * units, and one that is; `none` where no budget is enough, `unknown` where time ran out before there was an answer.
 */
export function findNextBudget(
  model: ProgrammeModel,
  budget: number,
  value: number,
  { highs, timeLimitS }: Solver,
):
  | { readonly budget: number; readonly assignment: Assignment; readonly isProven: boolean }
  | 'none'
  | 'unknown' {
  const { chosen, bound, isInfeasible } = solveBinaries(
    highs,
    toBudgetLp(model, budget + 1, value + LEAST_STEP),
    { names: listNames(model, Number.POSITIVE_INFINITY), timeLimitS, tolerance: TOLERANCE },
  );
  if (isInfeasible) return 'none';
  if (chosen === undefined) return 'unknown';
  const assignment = toAssignment(model, chosen);
  const least = Math.max(budget + 1, findDearest(model, assignment));
  if (!isWithin(model, assignment, least) || worthOf(model, assignment) <= value) return 'unknown';
  return { budget: least, assignment, isProven: Math.ceil(bound - 1e-6) >= least };
}

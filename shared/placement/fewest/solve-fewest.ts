import type { Highs } from 'highs';
import { solveBinaries } from '../../solver/solve-binaries.ts';
import type { Rules } from '../rules.ts';
import type { Solution } from '../solution.ts';
import { keepsRows } from './keeps-rows.ts';
import type { Question } from './question.ts';
import { sweep } from './sweep.ts';
import { toPlaces } from './to-beacons.ts';
import { listFree, nameOf, toLp } from './to-lp.ts';

/** The solver's rounding: a bound of 46.0000001 proves 47, one of 46.00000001 does not. */
const BOUND_SLACK = 1e-6;

export type Solved = {
  readonly solution: Solution;
  /** Nothing that keeps every rule has fewer beacons. */
  readonly isProven: boolean;
  /** What the solver took. */
  readonly seconds: number;
};

/**
 * Answers a question by integer programming, within about `timeLimitS`: the fewest beacons that were found and how many
 * are needed at least. It begins with the sweep's answer and keeps it unless fewer are found, so that the same
 * question has the same answer whenever its fewest is proven. Blocks while it solves.
 */
export function solveFewest(
  question: Question,
  rules: Rules,
  highs: Highs,
  { timeLimitS }: { readonly timeLimitS: number },
): Solved {
  const swept = sweep(question);
  const { chosen, bound, seconds } =
    question.rows.length === 0
      ? { chosen: swept, bound: swept.length - question.fixed.length, seconds: 0 }
      : solve(question, swept, highs, timeLimitS);
  const places = toPlaces(question, chosen, rules);
  const given = toPlaces(question, question.fixed, rules).length;
  const atLeast = Math.min(places.length, given + bound * question.copies);
  return {
    solution: { key: question.key, places, bound: atLeast },
    isProven: atLeast === places.length,
    seconds,
  };
}

function solve(question: Question, swept: readonly number[], highs: Highs, timeLimitS: number) {
  const free = listFree(question);
  const sweptNames = new Set(swept.map(nameOf));
  const names = free.map(nameOf);
  const start = new Set(names.filter((name) => sweptNames.has(name)));
  const answer = solveBinaries(highs, toLp(question), { names, start, timeLimitS });
  const chosen = free.filter((candidate) => answer.chosen?.has(nameOf(candidate)) === true);
  const bound = Number.isFinite(answer.bound) ? Math.max(0, Math.ceil(answer.bound - BOUND_SLACK)) : 0;
  return { chosen: pickBetter(question, chosen, swept), bound, seconds: answer.seconds };
}

/** What the solver chose, where it keeps the rows with fewer than the sweep; otherwise the sweep's. */
function pickBetter(
  question: Question,
  chosen: readonly number[],
  swept: readonly number[],
): readonly number[] {
  const all = [...question.fixed, ...chosen].sort((a, b) => a - b);
  return all.length < swept.length && keepsRows(question, new Set(all)) ? all : swept;
}

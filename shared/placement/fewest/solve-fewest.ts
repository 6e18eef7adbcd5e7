import type { Highs, Model } from 'highs';
import type { Rules } from '../rules.ts';
import type { Solution } from '../solution.ts';
import { keepsRows } from './keeps-rows.ts';
import type { Question } from './question.ts';
import { sweep } from './sweep.ts';
import { toPlaces } from './to-beacons.ts';
import { toLp } from './to-lp.ts';

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
  const model = highs.createModel({ format: 'lp', data: toLp(question) });
  try {
    model.options.set({ output_flag: false, time_limit: timeLimitS, mip_rel_gap: 0, random_seed: 0 });
    const columns = listColumns(question, model);
    model.setSolution({
      indices: columns.map(({ column }) => column),
      values: columns.map(({ candidate }) => (swept.includes(candidate) ? 1 : 0)),
    });
    model.run();
    const found = findBetter(question, model, columns, swept);
    const dual = Number(model.info.get('mip_dual_bound'));
    const bound = Number.isFinite(dual) ? Math.max(0, Math.ceil(dual - BOUND_SLACK)) : 0;
    return { chosen: found ?? swept, bound, seconds: model.getRunTime() };
  } finally {
    model.dispose();
  }
}

type Column = { readonly candidate: number; readonly column: number };

function listColumns({ candidates, fixed }: Question, model: Model): readonly Column[] {
  const given = new Set(fixed);
  return candidates.flatMap((_, candidate) =>
    given.has(candidate) ? [] : [{ candidate, column: model.getColByName(`c${candidate}`) }],
  );
}

/** What the solver chose, where it keeps the rows with fewer than the sweep. */
function findBetter(
  question: Question,
  model: Model,
  columns: readonly Column[],
  swept: readonly number[],
): readonly number[] | undefined {
  const values = model.getSolution().colValue;
  const chosen = columns
    .filter(({ column }) => (values[column] ?? 0) > 0.5)
    .map(({ candidate }) => candidate);
  const all = [...question.fixed, ...chosen].sort((a, b) => a - b);
  return all.length < swept.length && keepsRows(question, new Set(all)) ? all : undefined;
}

import type { LinkId } from '../../network/network.ts';
import type { Beacon } from '../beacon.ts';
import { type LayoutInput, layEven } from '../lay-even.ts';
import type { Solution } from '../solution.ts';
import { buildQuestion } from './build-question.ts';
import { keepsRows } from './keeps-rows.ts';
import type { CoverageGap, Question } from './question.ts';
import { sweep } from './sweep.ts';
import { findChosen, toBeacons } from './to-beacons.ts';

/** What is known of how few beacons there can be. */
export type Fewest = {
  /** The key of the question that the input asks. */
  readonly key: string;
  /** `solved`: as the solution says; `sweep`: found quickly, with nothing proven. */
  readonly method: 'sweep' | 'solved';
  /** No layout that keeps every rule has fewer beacons. */
  readonly bound?: number;
  /** Where the rules need more beacons than can stand, or be heard, there. */
  readonly gaps: readonly CoverageGap[];
};

export type FewestLayout = Fewest & { readonly beacons: readonly Beacon[] };

/**
 * The fewest method: a solution's places where it answers the very question that the input asks, else those of the
 * sweep. Sorted by link and chainage.
 */
export function layFewest(input: LayoutInput, solution?: Solution): FewestLayout {
  const { network, rules } = input;
  const question = askFewest(input);
  const { key, gaps } = question;
  const solved = solution === undefined ? undefined : findSolved(question, solution);
  if (solution !== undefined && solved !== undefined) {
    const beacons = toBeacons(network, rules, question, solved);
    return { key, beacons, method: 'solved', bound: Math.min(solution.bound, beacons.length), gaps };
  }
  return { key, beacons: toBeacons(network, rules, question, sweep(question)), method: 'sweep', gaps };
}

/** The question of `layFewest`; the places of the even method are among its candidates, so that it never needs more. */
export function askFewest(input: LayoutInput): Question {
  const alsoAt = new Map<LinkId, number[]>();
  const even = layEven(input);
  for (const { at } of even) {
    const own = alsoAt.get(at.linkId);
    if (own === undefined) alsoAt.set(at.linkId, [at.chainageM]);
    else own.push(at.chainageM);
  }
  const question = buildQuestion(input, alsoAt);
  const known = findChosen(
    question,
    even.map(({ at, side }) => ({ ...at, wall: side })),
  );
  return known !== undefined && keepsRows(question, new Set(known)) ? { ...question, known } : question;
}

/** The candidates that a solution chooses; undefined where it answers another question or breaks a rule. */
function findSolved(question: Question, solution: Solution): readonly number[] | undefined {
  if (solution.key !== question.key) return undefined;
  const chosen = findChosen(question, solution.places);
  return chosen !== undefined && keepsRows(question, new Set(chosen)) ? chosen : undefined;
}

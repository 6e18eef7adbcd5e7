import { joinTerms, listBinaries } from '../../solver/join-terms.ts';
import type { Question } from './question.ts';

/** Writes a question as an integer programme in CPLEX LP text: variable `c7` is whether candidate 7 gets a beacon. */
export function toLp(question: Question): string {
  const sum = (candidates: readonly number[]) => joinTerms(candidates.map(nameOf));
  const free = listFree(question);
  return [
    'Minimize',
    ` count: ${sum(free)}`,
    'Subject To',
    ...question.rows.map(({ of, need }, i) => ` r${i}: ${sum(of)} >= ${need}`),
    ...listBinaries(free.map(nameOf)),
    'End',
    '',
  ].join('\n');
}

/** The candidates that the programme decides on: those that are not fixed. */
export function listFree({ candidates, fixed }: Pick<Question, 'candidates' | 'fixed'>): readonly number[] {
  const given = new Set(fixed);
  return candidates.map((_, i) => i).filter((i) => !given.has(i));
}

/** A candidate's variable. */
export function nameOf(candidate: number): string {
  return `c${candidate}`;
}

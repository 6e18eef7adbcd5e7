import type { Question } from './question.ts';

/** Whether a choice of candidates (numbers) has what is fixed and keeps every row. */
export function keepsRows(question: Question, chosen: ReadonlySet<number>): boolean {
  return (
    question.fixed.every((candidate) => chosen.has(candidate)) &&
    question.rows.every(({ of, need }) => of.filter((candidate) => chosen.has(candidate)).length >= need)
  );
}

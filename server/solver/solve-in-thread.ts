import type { Question } from '../../shared/placement/fewest/question.ts';
import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { askThread } from './ask-thread.ts';

export type SolveTask = {
  readonly question: Question;
  readonly rules: Rules;
  readonly timeLimitS: number;
};

/** Solves a question in a thread of its own; undefined where `signal` fires before there is an answer. */
export function solveInThread(task: SolveTask, signal: AbortSignal): Promise<Solved | undefined> {
  return askThread<Solved>('solve-thread', task, signal);
}

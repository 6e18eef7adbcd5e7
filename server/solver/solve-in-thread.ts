import type { Question } from '../../shared/placement/fewest/question.ts';
import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { startThread } from '../start-thread.ts';

export type SolveTask = {
  readonly question: Question;
  readonly rules: Rules;
  readonly timeLimitS: number;
};

/** The solver's own memory lies outside of this. */
const HEAP_MB = 512;

/**
 * Solves a question in a thread of its own, so that it can be stopped: resolves with undefined where `signal` fires
 * before there is an answer; a fault of the solver rejects.
 */
export function solveInThread(task: SolveTask, signal: AbortSignal): Promise<Solved | undefined> {
  if (signal.aborted) return Promise.resolve(undefined);
  return new Promise((resolve, reject) => {
    const worker = startThread(import.meta.url, 'solve-thread', {
      workerData: task,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const cancel = () => {
      resolve(undefined);
      void worker.terminate();
    };
    signal.addEventListener('abort', cancel, { once: true });
    worker.on('message', resolve);
    worker.on('error', reject);
    worker.on('exit', (code) => {
      signal.removeEventListener('abort', cancel);
      // After an answer this changes nothing: a promise settles once.
      reject(new Error(`the solver stopped without an answer (code ${code})`));
    });
  });
}

import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import type { NetworkComparison } from '../../shared/pipeline/compare-surveys.ts';
import type { Rebuilt } from '../../shared/pipeline/rebuild-survey.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { startThread } from '../start-thread.ts';
import type { CompareTask } from './compare-task.ts';
import type { DrivenTunnel, DriveTask } from './drive-task.ts';
import type { ImportedSurvey, ImportTask } from './import-task.ts';
import type { RebuildTask } from './rebuild-task.ts';

/** What a worker thread can be given to do. */
export type WorkerTask =
  | { readonly kind: 'import'; readonly task: ImportTask }
  | { readonly kind: 'rebuild'; readonly task: RebuildTask }
  | { readonly kind: 'compare'; readonly task: CompareTask }
  | { readonly kind: 'drives'; readonly task: DriveTask };

type Answers = {
  readonly import: ImportedSurvey;
  readonly rebuild: Rebuilt;
  readonly compare: NetworkComparison;
  readonly drives: readonly DrivenTunnel[];
};

/** One task may use this much heap before it is refused; the server's own heap is not touched. */
const HEAP_MB = 1024;

/** How long a task may take. */
const LIMIT_MIN = { import: 30, rebuild: 10, compare: 10, drives: 30 } as const satisfies Record<
  WorkerTask['kind'],
  number
>;

type Message<T> =
  | { readonly kind: 'progress'; readonly progress: Progress }
  | { readonly kind: 'answer'; readonly answer: Result<T> };

/**
 * Runs one task in a worker thread with a heap limit of its own. Refused as `out-of-memory` where it needs more,
 * `took-too-long` after `limitMin`, `job-cancelled` where `signal` fires; a bug in the worker rejects.
 */
export function runInWorker<K extends WorkerTask['kind']>(
  work: Extract<WorkerTask, { kind: K }>,
  report: (progress: Progress) => void = () => {},
  signal: AbortSignal = new AbortController().signal,
  limitMin: number = LIMIT_MIN[work.kind],
): Promise<Result<Answers[K]>> {
  if (signal.aborted) return Promise.resolve(refused(refusal('job-cancelled')));
  return new Promise((resolve, reject) => {
    const worker = startThread(import.meta.url, 'task-worker', {
      workerData: work,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const end = (why: Refusal) => {
      resolve(refused(why));
      void worker.terminate();
    };
    const cancel = () => end(refusal('job-cancelled'));
    const late = refusal('took-too-long', { name: work.task.name, minutes: limitMin });
    const limit = setTimeout(() => end(late), limitMin * 60_000);
    signal.addEventListener('abort', cancel, { once: true });
    worker.on('message', (message: Message<Answers[K]>) => {
      if (message.kind === 'progress') report(message.progress);
      else resolve(message.answer);
    });
    worker.on('error', (error: Error & { code?: string }) => {
      if (error.code === 'ERR_WORKER_OUT_OF_MEMORY') {
        resolve(refused(refusal('out-of-memory', { name: work.task.name })));
      } else reject(error);
    });
    worker.on('exit', (code) => {
      signal.removeEventListener('abort', cancel);
      clearTimeout(limit);
      // After an answer this changes nothing: a promise settles once.
      reject(new Error(`the worker stopped without an answer (code ${code})`));
    });
  });
}

/** Does an import in a worker thread; refused as runInWorker and runImport. */
export function runImportInWorker(
  task: ImportTask,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<ImportedSurvey>> {
  return runInWorker<'import'>({ kind: 'import', task }, report, signal);
}

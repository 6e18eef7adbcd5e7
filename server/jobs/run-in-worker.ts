import { refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { startThread } from '../start-thread.ts';
import type { ImportedSurvey, ImportTask } from './import-task.ts';

/** One import may use this much heap before it is refused; the server's own heap is not touched. */
const HEAP_MB = 1024;

type Message =
  | { readonly kind: 'progress'; readonly progress: Progress }
  | { readonly kind: 'answer'; readonly answer: Result<ImportedSurvey> };

/**
 * Runs one import in a worker thread with a heap limit of its own. Refused as `out-of-memory` where it needs more,
 * `job-cancelled` where `signal` fires; a bug in the worker rejects.
 */
export function runInWorker(
  task: ImportTask,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<ImportedSurvey>> {
  if (signal.aborted) return Promise.resolve(refused(refusal('job-cancelled')));
  return new Promise((resolve, reject) => {
    const worker = startThread(import.meta.url, 'import-worker', {
      workerData: task,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const cancel = () => {
      resolve(refused(refusal('job-cancelled')));
      void worker.terminate();
    };
    signal.addEventListener('abort', cancel, { once: true });
    worker.on('message', (message: Message) => {
      if (message.kind === 'progress') report(message.progress);
      else resolve(message.answer);
    });
    worker.on('error', (error: Error & { code?: string }) => {
      if (error.code === 'ERR_WORKER_OUT_OF_MEMORY') {
        resolve(refused(refusal('out-of-memory', { name: task.name })));
      } else reject(error);
    });
    worker.on('exit', (code) => {
      signal.removeEventListener('abort', cancel);
      // After an answer this changes nothing: a promise settles once.
      reject(new Error(`the import worker stopped without an answer (code ${code})`));
    });
  });
}

import { Worker } from 'node:worker_threads';
import { refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import type { Progress } from '../../shared/wire/survey.ts';
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
    const worker = start(task);
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

function start(workerData: ImportTask): Worker {
  const options = { workerData, resourceLimits: { maxOldGenerationSizeMb: HEAP_MB } };
  if (!import.meta.url.endsWith('.ts'))
    return new Worker(new URL('./import-worker.js', import.meta.url), options);
  // Run from source (development, tests): Node 20 does not hand the TypeScript loader on to threads.
  const url = new URL('./import-worker.ts', import.meta.url).href;
  const code = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(url)}); })`;
  return new Worker(code, { ...options, eval: true });
}

import { startThread } from '../start-thread.ts';

/** The solver's own memory lies outside of this. */
const HEAP_MB = 512;

/**
 * Has one question answered by the thread `name` of this folder, so that it can be stopped: resolves with undefined
 * where `signal` fires before there is an answer; a fault of the thread rejects.
 */
export function askThread<T>(name: string, task: unknown, signal: AbortSignal): Promise<T | undefined> {
  if (signal.aborted) return Promise.resolve(undefined);
  return new Promise((resolve, reject) => {
    const worker = startThread(import.meta.url, name, {
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

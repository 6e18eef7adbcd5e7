import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { type Refusal, RefusalError } from '../../shared/outcome/refusal.ts';
import { startThread } from '../start-thread.ts';
import type { Answers, Pass, PassKind } from './pbf-passes.ts';
import { type BlobTask, batchOf, type PbfRunner } from './pbf-runner.ts';

export type ToWorker = {
  readonly pass: Pass;
  readonly blobs: readonly BlobTask[];
  /** How many blobs a thread takes at a time. */
  readonly batch: number;
  /** Shared: the first blob that nobody has taken yet. */
  readonly next: Int32Array;
};
export type FromWorker =
  | {
      readonly kind: 'batch';
      readonly first: number;
      readonly answers: readonly Answers[PassKind][];
      readonly bytes: number;
    }
  | { readonly kind: 'done' }
  | { readonly kind: 'unusual' }
  | { readonly kind: 'refused'; readonly refusal: Refusal };

/** One reading thread may use this much heap before the import is refused. */
const HEAP_MB = 256;

/** Starts `count` threads that read the open file. */
export function startPbfThreads(file: number, count: number, signal: AbortSignal | undefined): PbfRunner {
  const workers = Array.from({ length: count }, () =>
    startThread(import.meta.url, 'pbf-worker', {
      workerData: { file },
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    }),
  );
  return {
    run(pass, blobs, onAnswer, onBytes) {
      if (signal?.aborted) return Promise.reject(new RefusalError('job-cancelled'));
      if (blobs.length === 0) return Promise.resolve();
      const next = new Int32Array(new SharedArrayBuffer(4));
      return new Promise((resolve, reject) => {
        let busy = workers.length;
        const cancel = () => settle(new RefusalError('job-cancelled'));
        const settle = (error?: unknown) => {
          signal?.removeEventListener('abort', cancel);
          for (const worker of workers) worker.removeAllListeners();
          // What a thread that is being stopped still says is of no use to anybody.
          for (const worker of workers) worker.on('error', () => {});
          if (error === undefined) resolve();
          else reject(error);
        };
        signal?.addEventListener('abort', cancel, { once: true });
        const listen = (message: FromWorker) => {
          if (message.kind === 'batch') {
            try {
              message.answers.forEach((answer, index) => {
                onAnswer(answer as Answers[typeof pass.kind], message.first + index);
              });
              onBytes(message.bytes);
            } catch (error) {
              settle(error);
            }
          } else if (message.kind === 'refused')
            settle(new RefusalError(message.refusal.code, message.refusal.context));
          else if (message.kind === 'unusual') settle(new UnusualPbf());
          else {
            busy -= 1;
            if (busy === 0) settle();
          }
        };
        for (const worker of workers) {
          worker.removeAllListeners();
          worker.on('message', listen);
          worker.on('error', (error: Error & { code?: string }) => {
            settle(error.code === 'ERR_WORKER_OUT_OF_MEMORY' ? new RefusalError('out-of-memory') : error);
          });
          worker.on('exit', () => settle(new Error('a reading thread stopped without an answer')));
          worker.postMessage({ pass, blobs, batch: batchOf(blobs), next } satisfies ToWorker);
        }
      });
    },
    async close() {
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}

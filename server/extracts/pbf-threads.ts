import { Worker } from 'node:worker_threads';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { type Refusal, RefusalError } from '../../shared/outcome/refusal.ts';
import type { Answers, Pass, Passes, PassKind } from './pbf-passes.ts';
import type { BlobPlace } from './read-blob-index.ts';

export type ToWorker = {
  readonly pass: Pass;
  readonly blobs: readonly BlobPlace[];
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

export type PbfThreads = {
  /**
   * Has every blob read, and hands over each answer with its place in `blobs` as it comes, in any order. Throws
   * UnusualPbf and RefusalError as the passes do, and 'job-cancelled'.
   */
  run<Kind extends PassKind>(
    pass: Passes[Kind] & { readonly kind: Kind },
    blobs: readonly BlobPlace[],
    onAnswer: (answer: Answers[Kind], index: number) => void,
    onBytes: (bytes: number) => void,
  ): Promise<void>;
  /** Stops the threads; nothing reads the file after that. */
  close(): Promise<void>;
};

const BATCH = 16;

/** Starts `count` threads that read the open file. */
export function startPbfThreads(file: number, count: number, signal: AbortSignal | undefined): PbfThreads {
  const workers = Array.from({ length: count }, () => startWorker({ file }));
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
          worker.postMessage({ pass, blobs, batch: BATCH, next } satisfies ToWorker);
        }
      });
    },
    async close() {
      await Promise.all(workers.map((worker) => worker.terminate()));
    },
  };
}

function startWorker(workerData: { readonly file: number }): Worker {
  if (!import.meta.url.endsWith('.ts')) {
    return new Worker(new URL('./pbf-worker.js', import.meta.url), { workerData });
  }
  // Run from source (development, tests): Node 20 does not hand the TypeScript loader on to threads.
  const url = new URL('./pbf-worker.ts', import.meta.url).href;
  const code = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(url)}); })`;
  return new Worker(code, { workerData, eval: true });
}

import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { type Refusal, RefusalError } from '../../shared/outcome/refusal.ts';
import { startThread } from '../start-thread.ts';
import type { Answers, Pass, Passes, PassKind } from './pbf-passes.ts';
import type { BlobPlace } from './read-blob-index.ts';

/** A blob to be read, and what is in it where that was put aside (in shared memory). */
export type BlobTask = BlobPlace & { readonly unpacked?: Uint8Array | undefined };

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

export type PbfThreads = {
  /**
   * Has every blob read, and hands over each answer with its place in `blobs` as it comes, in any order. Throws
   * UnusualPbf and RefusalError as the passes do, and 'job-cancelled'.
   */
  run<Kind extends PassKind>(
    pass: Passes[Kind] & { readonly kind: Kind },
    blobs: readonly BlobTask[],
    onAnswer: (answer: Answers[Kind], index: number) => void,
    onBytes: (bytes: number) => void,
  ): Promise<void>;
  /** Stops the threads; nothing reads the file after that. */
  close(): Promise<void>;
};

/** Blobs that a thread takes at once, and their packed bytes, at most. */
const BATCH = 16;
const BATCH_BYTES = 4 << 20;
/** One reading thread may use this much heap before the import is refused. */
const HEAP_MB = 256;

/** Starts `count` threads that read the open file. */
export function startPbfThreads(file: number, count: number, signal: AbortSignal | undefined): PbfThreads {
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

/** So many blobs that a batch stays small in memory, whatever their size; small ones are read many at a time. */
function batchOf(blobs: readonly BlobPlace[]): number {
  const largest = blobs.reduce((most, { size }) => Math.max(most, size), 1);
  return Math.min(BATCH, Math.max(1, Math.floor(BATCH_BYTES / largest)));
}

import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import type { SolveReply, SolveRequest } from './solve-worker.ts';

/** A search that is under way. */
export type Solving = {
  /** Never settles once it was cancelled; rejects where the worker cannot be had or fails. */
  readonly answer: Promise<Solved>;
  cancel(): void;
};

/** The part of a Worker that is used; tests bring their own. */
export type SolvePort = Pick<Worker, 'postMessage' | 'terminate'> & {
  onmessage: ((event: MessageEvent<SolveReply>) => void) | null;
  onerror: ((event: ErrorEvent) => void) | null;
};

/** Starts to look for the fewest beacons of a complex in a worker of its own, which ends with the answer. */
export function startSolving(
  request: SolveRequest,
  startWorker: () => SolvePort = startSolveWorker,
): Solving {
  const worker = startWorker();
  const answer = new Promise<Solved>((resolve, reject) => {
    worker.onmessage = ({ data }) => {
      worker.terminate();
      if (data.solved === undefined) reject(new Error(data.error));
      else resolve(data.solved);
    };
    worker.onerror = (event) => {
      worker.terminate();
      reject(new Error(event.message || 'the solver’s worker failed'));
    };
  });
  worker.postMessage(request);
  return {
    answer,
    cancel() {
      worker.onmessage = null;
      worker.onerror = null;
      worker.terminate();
    },
  };
}

function startSolveWorker(): SolvePort {
  return new Worker(new URL('./solve-worker.ts', import.meta.url), { type: 'module' });
}

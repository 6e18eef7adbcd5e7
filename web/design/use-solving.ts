import { type RefObject, useEffect, useRef, useState } from 'react';
import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import type { SolveRequest } from '../worker/solve-worker.ts';
import { type Solving, startSolving } from '../worker/start-solving.ts';

export type SolveState =
  | { readonly status: 'idle' }
  | { readonly status: 'running'; readonly seconds: number }
  | { readonly status: 'done'; readonly solved: Solved }
  | { readonly status: 'failed'; readonly reason: string };

type Running = { readonly solving: Solving; readonly clock: ReturnType<typeof setInterval> };

/** One search at a time, with the seconds it has taken; it ends when it is cancelled or its section goes away. */
export function useSolving() {
  const [state, setState] = useState<SolveState>({ status: 'idle' });
  const running = useRef<Running | undefined>(undefined);
  useEffect(() => () => end(running), []);
  const finish = (next: SolveState) => {
    end(running);
    setState(next);
  };
  return {
    state,
    start(request: SolveRequest) {
      const startMs = performance.now();
      const tick = () =>
        setState({ status: 'running', seconds: Math.floor((performance.now() - startMs) / 1000) });
      end(running);
      const solving = startSolving(request);
      running.current = { solving, clock: setInterval(tick, 1000) };
      tick();
      solving.answer.then(
        (solved) => finish({ status: 'done', solved }),
        (error: Error) => finish({ status: 'failed', reason: error.message }),
      );
    },
    cancel: () => finish({ status: 'idle' }),
  };
}

function end(running: RefObject<Running | undefined>): void {
  running.current?.solving.cancel();
  clearInterval(running.current?.clock);
  running.current = undefined;
}

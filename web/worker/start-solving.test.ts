import { describe, expect, it } from 'vitest';
import type { Solved } from '../../shared/placement/fewest/solve-fewest.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { empty, network } from '../session/tunnel.fixture.ts';
import { type SolvePort, startSolving } from './start-solving.ts';

const request = { network, surveyRules: DEFAULT_RULES, scheme: empty, timeLimitS: 5 };
const solved: Solved = { solution: { key: 'k', places: [], bound: 0 }, isProven: true, seconds: 0.1 };

function makeWorker() {
  const asked: unknown[] = [];
  const worker = {
    asked,
    isEnded: false,
    onmessage: null as SolvePort['onmessage'],
    onerror: null as SolvePort['onerror'],
    postMessage: (message: unknown) => void asked.push(message),
    terminate: () => {
      worker.isEnded = true;
    },
  };
  return worker;
}

describe('startSolving', () => {
  it('asks the worker, gives its answer and ends it', async () => {
    const worker = makeWorker();
    const { answer } = startSolving(request, () => worker as never);
    expect(worker.asked).toEqual([request]);
    worker.onmessage?.({ data: { solved } } as never);
    expect(await answer).toBe(solved);
    expect(worker.isEnded).toBe(true);
  });

  it('tells a fault of the solver, and of the worker itself', async () => {
    const [one, other] = [makeWorker(), makeWorker()];
    const first = startSolving(request, () => one as never).answer;
    one.onmessage?.({ data: { error: 'no memory' } } as never);
    await expect(first).rejects.toThrow('no memory');
    const second = startSolving(request, () => other as never).answer;
    other.onerror?.({ message: '' } as never);
    await expect(second).rejects.toThrow('worker failed');
  });

  it('ends the worker when it is cancelled', () => {
    const worker = makeWorker();
    startSolving(request, () => worker as never).cancel();
    expect(worker).toMatchObject({ isEnded: true, onmessage: null });
  });
});

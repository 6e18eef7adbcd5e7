import { describe, expect, it } from 'vitest';
import type { ProgrammeRequest, ProgrammeView } from '../../shared/wire/ranking.ts';
import type { Answer } from './api.ts';
import { createProgrammeSession } from './programme-session.ts';

const request: ProgrammeRequest = { years: 3, budgetPerYear: 10, nightsPerYear: 5 };
const view = (years: number) => ({ years }) as ProgrammeView;
const problem = { code: 'rule-invalid', status: 400, detail: 'Too few.', context: {} };

function setUp() {
  const calls: { signal: AbortSignal; answer: (given: Answer<ProgrammeView>) => void }[] = [];
  const session = createProgrammeSession({
    programme: (_id, _request, signal) => new Promise((resolve) => calls.push({ signal, answer: resolve })),
  });
  return { session, calls };
}

describe('a programme session', () => {
  it('shows what it asks, then the answer with its question', async () => {
    const { session, calls } = setUp();
    const done = session.start('a', request);
    expect(session.get().asking).toEqual(request);
    calls[0]?.answer({ ok: true, value: view(3) });
    await done;
    expect(session.get()).toMatchObject({ asking: undefined, planned: { request, answer: { years: 3 } } });
  });

  it('stops the request when it is cancelled, and takes no answer that comes too late', async () => {
    const { session, calls } = setUp();
    const done = session.start('a', request);
    session.cancel();
    expect(calls[0]?.signal.aborted).toBe(true);
    calls[0]?.answer({ ok: true, value: view(3) });
    await done;
    expect(session.get()).toMatchObject({ asking: undefined, planned: undefined, isCancelled: true });
  });

  it('keeps the plan of the same survey while a newer one is made, not that of another', async () => {
    const { session, calls } = setUp();
    const first = session.start('a', request);
    calls[0]?.answer({ ok: true, value: view(3) });
    await first;
    const second = session.start('a', { ...request, years: 4 });
    expect(session.get().planned?.answer).toEqual(view(3));
    calls[1]?.answer({ ok: false, problem });
    await second;
    expect(session.get()).toMatchObject({ problem, asking: undefined });
    void session.start('b', request);
    expect(session.get()).toMatchObject({ surveyId: 'b', planned: undefined, problem: undefined });
  });
});

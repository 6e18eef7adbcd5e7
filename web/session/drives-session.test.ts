import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { DrivesView } from '../../shared/wire/ranking.ts';
import { createDrivesSession, watchDrives } from './drives-session.ts';

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

function create(told: DrivesView) {
  const asked: string[] = [];
  let now = told;
  const session = createDrivesSession({
    read: async (id) => {
      asked.push(id);
      return { ok: true, value: now };
    },
    end: async (id) => {
      asked.push(`end ${id}`);
      return { ok: true, value: undefined };
    },
  });
  return { session, asked, tell: (next: DrivesView) => (now = next) };
}

describe('drives that an answer waits for', () => {
  it('are told as long as it is not there', async () => {
    const { session, tell } = create({ done: 3, total: 50 });
    let answer = (_: string) => {};
    const asked = session.watch('/api/surveys/a%2Fb/layers/complexes', new Promise((r) => (answer = r)));
    await vi.advanceTimersByTimeAsync(1400);
    expect(session.get().total).toBe(0);
    await vi.advanceTimersByTimeAsync(200);
    expect(session.get()).toEqual({ surveyId: 'a/b', done: 3, total: 50 });
    tell({ done: 40, total: 50 });
    await vi.advanceTimersByTimeAsync(1000);
    expect(session.get().done).toBe(40);
    answer('there');
    expect(await asked).toBe('there');
    expect(session.get()).toEqual({ done: 0, total: 0 });
    const heard = vi.fn();
    session.subscribe(heard);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(heard).not.toHaveBeenCalled();
  });

  it('are not asked about where the answer is quick, or waits for something else', async () => {
    const { session, asked } = create({ done: 0, total: 50 });
    await session.watch('/api/surveys/a/ranking', Promise.resolve(1));
    void session.watch('/api/surveys/a/layers/bores', new Promise(() => {}));
    void session.watch('/api/surveys/a/complexes/t1/commands', new Promise(() => {}));
    await vi.advanceTimersByTimeAsync(10_000);
    expect(asked).toEqual([]);
  });

  it('are watched once for two answers, until both are there, whatever they say', async () => {
    const { session, asked } = create({ done: 1, total: 50 });
    const ends: ((error?: Error) => void)[] = [];
    const fetcher = () =>
      new Promise<Response>((resolve, reject) => {
        ends.push((error) => (error === undefined ? resolve(new Response()) : reject(error)));
      });
    const watched = watchDrives(fetcher, session.watch);
    const first = watched('/api/surveys/a/layers/complexes');
    const second = watched('/api/surveys/a/ranking', { method: 'POST' });
    const failed = expect(second).rejects.toThrow('away');
    await vi.advanceTimersByTimeAsync(1600);
    expect(asked).toEqual(['a']);
    ends[1]?.(new Error('away'));
    await failed;
    expect(session.get().total).toBe(50);
    await session.cancel();
    expect(asked.at(-1)).toBe('end a');
    ends[0]?.();
    await first;
    expect(session.get().total).toBe(0);
  });
});

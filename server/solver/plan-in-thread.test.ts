import { describe, expect, it } from 'vitest';
import type { ComplexId } from '../../shared/network/network.ts';
import type { ProgrammeInput, ProgrammeTunnel } from '../../shared/ranking/programme-model.ts';
import { planInThread } from './plan-in-thread.ts';

const tunnel = (id: string, cost: number, gainPerDay: number): ProgrammeTunnel => ({
  id: id as ComplexId,
  cost,
  nights: 1,
  gainPerDay,
});
const limits = { years: 1, budgetPerYear: 10, nightsPerYear: 5, crews: 1, crewsPerNight: 1 };
const ask = (tunnels: readonly ProgrammeTunnel[]): ProgrammeInput => ({ ...limits, tunnels });
/** The best by ratio (8 for 6) leaves no room for the two that are worth more together. */
const input = ask([tunnel('a', 6, 8), tunnel('b', 5, 6), tunnel('c', 5, 6)]);
const never = () => new AbortController().signal;

describe('planInThread', () => {
  it('answers from a thread of its own', async () => {
    const planned = await planInThread({ input, timeLimitS: 20 }, never());
    expect(planned).toMatchObject({ ok: true, value: { isProven: true } });
    expect(planned?.ok && planned.value.best.years[0]?.ids).toEqual(['b', 'c']);
    expect(planned?.ok && planned.value.byRatio.years[0]?.ids).toEqual(['a']);
  });

  it('gives up where it is stopped, before it begins or under way', async () => {
    expect(await planInThread({ input, timeLimitS: 20 }, AbortSignal.abort())).toBeUndefined();
    const stop = new AbortController();
    const asked = planInThread({ input, timeLimitS: 20 }, stop.signal);
    stop.abort();
    expect(await asked).toBeUndefined();
  });

  it('rejects with the fault of its thread, and the next one is answered', async () => {
    const twice = ask([tunnel('a', 6, 8), tunnel('a', 5, 6)]);
    await expect(planInThread({ input: twice, timeLimitS: 20 }, never())).rejects.toThrow(
      'tunnel a is there twice',
    );
    expect(await planInThread({ input, timeLimitS: 20 }, never())).toMatchObject({ ok: true });
  });
});

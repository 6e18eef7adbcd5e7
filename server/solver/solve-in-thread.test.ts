import { describe, expect, it } from 'vitest';
import { askFewest } from '../../shared/placement/fewest/lay-fewest.ts';
import { makeRadius } from '../../shared/placement/make-radius.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { drawTunnel } from '../../tests/places/draw-tunnel.ts';
import { solveInThread } from './solve-in-thread.ts';

const rules = DEFAULT_RULES;
const question = askFewest({
  network: drawTunnel(300),
  rules,
  pins: [],
  keepOuts: [],
  radiusM: makeRadius(rules),
});

describe('solveInThread', () => {
  it('answers from a thread of its own', async () => {
    const solved = await solveInThread({ question, rules, timeLimitS: 20 }, new AbortController().signal);
    expect(solved).toMatchObject({ isProven: true, solution: { key: question.key, bound: 9 } });
  });

  it('gives up where it is stopped, before it begins or under way', async () => {
    const stopped = AbortSignal.abort();
    expect(await solveInThread({ question, rules, timeLimitS: 20 }, stopped)).toBeUndefined();
    const stop = new AbortController();
    const asked = solveInThread({ question, rules, timeLimitS: 20 }, stop.signal);
    stop.abort();
    expect(await asked).toBeUndefined();
  });
});

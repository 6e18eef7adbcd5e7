import loadHighs, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import { drawTunnel, type Ramp } from '../../../tests/places/draw-tunnel.ts';
import { makeRadius } from '../make-radius.ts';
import { DEFAULT_RULES, type Rules } from '../rules.ts';
import { listFaults } from './check-layout.fixture.ts';
import { askFewest, layFewest } from './lay-fewest.ts';
import { makeChance } from './make-chance.fixture.ts';
import type { Question } from './question.ts';
import { solveFewest } from './solve-fewest.ts';
import { sweep } from './sweep.ts';
import { toLp } from './to-lp.ts';

let highs: Highs;
beforeAll(async () => {
  highs = await loadHighs();
});

function ask(lengthM: number, ramps: readonly Ramp[], rules: Partial<Rules>, isTwoWay = false) {
  const all = { ...DEFAULT_RULES, ...rules };
  const network = drawTunnel(lengthM, ramps, isTwoWay);
  return { network, rules: all, pins: [], keepOuts: [], radiusM: makeRadius(all) };
}

const solve = (question: Question, rules: Rules) => solveFewest(question, rules, highs, { timeLimitS: 30 });

/** The least count of all choices of the free candidates that keep every row, by trying each of them. */
function tryAll({ candidates, fixed, rows }: Question): number {
  const given = new Set(fixed);
  const free = candidates.map((_, i) => i).filter((i) => !given.has(i));
  if (free.length > 16) throw new Error(`${free.length} candidates are too many to try all`);
  const bit = new Map(free.map((candidate, i) => [candidate, 1 << i]));
  const masks = rows.map(({ of, need }) => ({
    need,
    mask: of.reduce((sum, c) => sum | (bit.get(c) ?? 0), 0),
  }));
  let least = Number.POSITIVE_INFINITY;
  for (let choice = 0; choice < 1 << free.length; choice += 1) {
    const count = countBits(choice);
    if (count < least && masks.every(({ need, mask }) => countBits(mask & choice) >= need)) least = count;
  }
  return least + fixed.length;
}

function countBits(bits: number): number {
  let count = 0;
  for (let left = bits; left !== 0; left &= left - 1) count += 1;
  return count;
}

describe('solveFewest', () => {
  it('finds what trying all choices finds, on small networks', () => {
    const chance = makeChance(11);
    let tried = 0;
    for (let i = 0; i < 40; i += 1) {
      const spacingM = 5 + Math.floor(chance() * 20);
      const input = ask(
        25 + chance() * 25,
        chance() < 0.7
          ? [{ at: 0.3 + 0.4 * chance(), lengthM: 10 + 15 * chance(), joins: chance() < 0.5 }]
          : [],
        {
          spacingM,
          coverageRadiusM: 5 + Math.floor(chance() * 20),
          coverageDepth: 1 + Math.floor(chance() * 3),
          redundancy: 1 + Math.floor(chance() * 2),
          decisionBeacons: Math.floor(chance() * 3),
          branchConfirmationM: 5 + Math.floor(chance() * 15),
        },
        chance() < 0.3,
      );
      const question = askFewest(input);
      if (question.candidates.length - question.fixed.length > 16) continue;
      tried += 1;
      const { solution, isProven } = solve(question, input.rules);
      expect(solution.places).toHaveLength(tryAll(question));
      expect(isProven).toBe(true);
      expect(sweep(question).length).toBeGreaterThanOrEqual(solution.places.length);
    }
    expect(tried).toBeGreaterThan(20);
  });

  it('is what a layout takes, and the same on every run', () => {
    const input = ask(700, [{ at: 0.5, lengthM: 160 }], {});
    const question = askFewest(input);
    const { solution, isProven } = solve(question, input.rules);
    expect(isProven).toBe(true);
    expect(solution.bound).toBe(solution.places.length);
    const laid = layFewest(input, solution);
    expect(laid).toMatchObject({ method: 'solved', bound: solution.bound });
    expect(laid.beacons).toHaveLength(solution.bound);
    expect(listFaults(input, laid.beacons)).toEqual([]);
    expect(solve(askFewest(input), input.rules).solution).toEqual(solution);
  });

  it('counts both walls where the rules want both', () => {
    const input = ask(400, [], { side: 'both' });
    const { solution } = solve(askFewest(input), input.rules);
    expect(solution.places).toHaveLength(22);
    expect(solution.bound).toBe(22);
    expect(layFewest(input, solution)).toMatchObject({ method: 'solved', bound: 22 });
  });

  it('proves nothing that it has no time for, but keeps the sweep’s answer', () => {
    const input = ask(2000, [{ at: 0.5, lengthM: 300 }], { coverageDepth: 3, coverageRadiusM: 70 });
    const question = askFewest(input);
    const { solution } = solveFewest(question, input.rules, highs, { timeLimitS: 0 });
    expect(solution.places.length).toBe(sweep(question).length);
    expect(solution.bound).toBeLessThanOrEqual(solution.places.length);
  });

  it('needs no solver where the fixed beacons do', () => {
    const input = ask(30, [], {});
    expect(solve(askFewest(input), input.rules)).toMatchObject({ isProven: true, solution: { bound: 2 } });
  });
});

describe('sweep', () => {
  // The goal: at most 6 % above the fewest on 2 km with three ramps.
  it('is near the fewest on 2 km with three ramps, whatever the rules', () => {
    const chance = makeChance(5);
    const ratios = Array.from({ length: 24 }, () => {
      const spacingM = 25 + Math.floor(chance() * 50);
      const input = ask(
        1800 + 400 * chance(),
        [0.2, 0.5, 0.75].map((at) => ({
          at: at + 0.1 * chance(),
          lengthM: 100 + 250 * chance(),
          joins: chance() < 0.4,
        })),
        {
          spacingM,
          coverageRadiusM: Math.round(spacingM * (0.6 + chance())),
          coverageDepth: 1 + Math.floor(chance() * 3),
        },
        chance() < 0.3,
      );
      const question = askFewest(input);
      const { solution, isProven } = solve(question, input.rules);
      expect(isProven).toBe(true);
      return sweep(question).length / solution.bound;
    }).sort((a, b) => a - b);
    expect(ratios[12]).toBeLessThanOrEqual(1.01);
    expect(ratios.at(-1)).toBeLessThanOrEqual(1.06);
  });

  it('answers within the time of a frame on 2 km with three ramps', () => {
    const input = ask(
      2000,
      [0.25, 0.5, 0.75].map((at) => ({ at, lengthM: 250 })),
      { coverageDepth: 2 },
    );
    const timesMs = Array.from({ length: 9 }, () => {
      const question = askFewest(input);
      const startMs = performance.now();
      sweep(question);
      return performance.now() - startMs;
    }).sort((a, b) => a - b);
    // Some 1 ms; the goal is 20 ms, and the machine of a test may be busy.
    expect(timesMs[4]).toBeLessThan(20);
  });
});

describe('toLp', () => {
  it('writes one variable for each free candidate and one row for each row', () => {
    const question = askFewest(ask(60, [], { spacingM: 30 }));
    const text = toLp(question);
    expect(text.match(/^ r\d+:/gm)).toHaveLength(question.rows.length);
    for (const candidate of question.fixed) expect(text).not.toMatch(new RegExp(`\\bc${candidate}\\b`));
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThan(255);
  });
});

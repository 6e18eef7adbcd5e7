import fc from 'fast-check';
import loadHighs from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { ComplexId } from '../network/network.ts';
import { planProgramme } from './programme.ts';
import type { ProgrammeInput, ProgrammeTunnel } from './programme-model.ts';

let highs: Awaited<ReturnType<typeof loadHighs>>;
beforeAll(async () => {
  highs = await loadHighs();
});

function plan(tunnels: readonly ProgrammeTunnel[], own: Partial<ProgrammeInput> = {}) {
  const limits = { years: 1, budgetPerYear: 100, nightsPerYear: 366, crews: 1, crewsPerNight: 1 };
  const planned = planProgramme({ tunnels, ...limits, ...own }, highs, { timeLimitS: 60 });
  if (!planned.ok) throw new Error(planned.refusal.code);
  return planned.value;
}

const toTunnels = (costs: readonly number[], gains: readonly number[], nights = 0): ProgrammeTunnel[] =>
  costs.map((cost, i) => ({ id: `t${i}` as ComplexId, cost, gainPerDay: gains[i] ?? Number.NaN, nights }));

/** The greatest gain of one year, from the list of all choices that no other one beats in cost and gain. */
function listUnbeaten(tunnels: readonly ProgrammeTunnel[], budget: number): number {
  let unbeaten = [{ cost: 0, gain: 0 }];
  for (const { cost, gainPerDay } of tunnels) {
    const more = unbeaten.map((one) => ({ cost: one.cost + cost, gain: one.gain + gainPerDay }));
    const all = [...unbeaten, ...more].filter((one) => one.cost <= budget);
    let most = -1;
    unbeaten = all
      .sort((a, b) => a.cost - b.cost || b.gain - a.gain)
      .filter(({ gain }) => {
        if (gain <= most) return false;
        most = gain;
        return true;
      });
  }
  return unbeaten.at(-1)?.gain ?? 0;
}

describe('planProgramme on knapsacks of textbooks', () => {
  // Instances 1, 7 and 8 of the collection KNAPSACK_01: values from memory, each found again by the list above.
  it.each([
    {
      capacity: 165,
      weights: [23, 31, 29, 44, 53, 38, 63, 85, 89, 82],
      profits: [92, 57, 49, 68, 60, 43, 67, 84, 87, 72],
      optimum: 309,
    },
    {
      capacity: 750,
      weights: [70, 73, 77, 80, 82, 87, 90, 94, 98, 106, 110, 113, 115, 118, 120],
      profits: [135, 139, 149, 150, 156, 163, 173, 184, 192, 201, 210, 214, 221, 229, 240],
      optimum: 1458,
    },
    {
      capacity: 6_404_180,
      weights: [
        382745, 799601, 909247, 729069, 467902, 44328, 34610, 698150, 823460, 903959, 853665, 551830, 610856,
        670702, 488960, 951111, 323046, 446298, 931161, 31385, 496951, 264724, 224916, 169684,
      ],
      profits: [
        825594, 1677009, 1676628, 1523970, 943972, 97426, 69666, 1296457, 1679693, 1902996, 1844992, 1049289,
        1252836, 1319836, 953277, 2067538, 675367, 853655, 1826027, 65731, 901489, 577243, 466257, 369261,
      ],
      optimum: 13_549_094,
    },
  ])('fills $capacity with $optimum', ({ capacity, weights, profits, optimum }) => {
    const tunnels = toTunnels(weights, profits);
    expect(listUnbeaten(tunnels, capacity)).toBe(optimum);
    const found = plan(tunnels, { budgetPerYear: capacity });
    expect(found.best.avoidedDrivers).toBeCloseTo(optimum * 365, 1);
    expect(found.isProven).toBe(true);
    expect(found.boundDrivers).toBeCloseTo(optimum * 365, 1);
    expect(found.best.cost).toBeLessThanOrEqual(capacity);
  });
});

describe('the next step', () => {
  it('is the least budget that spares more drivers, and the most that it spares', () => {
    const tunnel = fc.record({
      cost: fc.integer({ min: 1, max: 40 }),
      gain: fc.integer({ min: 1, max: 99 }),
    });
    fc.assert(
      fc.property(
        fc.array(tunnel, { minLength: 1, maxLength: 9 }),
        fc.integer({ min: 0, max: 90 }),
        (drawn, budget) => {
          const tunnels = toTunnels(
            drawn.map(({ cost }) => cost),
            drawn.map(({ gain }) => gain),
          );
          const now = listUnbeaten(tunnels, budget);
          const all = drawn.reduce((sum, { cost }) => sum + cost, 0);
          let least = budget + 1;
          while (least <= all && listUnbeaten(tunnels, least) === now) least += 1;
          const { next } = plan(tunnels, { budgetPerYear: budget });
          if (least > all) expect(next).toEqual({ kind: 'all done' });
          else {
            expect(next).toMatchObject({
              kind: 'step',
              budgetPerYear: least,
              extraPerYear: least - budget,
              isProven: true,
            });
            const more = next.kind === 'step' ? next.moreAvoidedDrivers : Number.NaN;
            expect(more).toBeCloseTo((listUnbeaten(tunnels, least) - now) * 365, 3);
          }
        },
      ),
      { seed: 43, numRuns: 40 },
    );
  });

  it('is none where nights are lacking, however much money there is', () => {
    const found = plan(toTunnels([10, 10], [5, 4], 3), { nightsPerYear: 3 });
    expect(found.best.years[0]?.ids).toEqual(['t0']);
    expect(found.next).toEqual({ kind: 'nights lacking' });
  });
});

describe('limits of a year', () => {
  it('hold to the hundredth of a unit of money, without the faults of binary fractions', () => {
    const tunnels = toTunnels([0.1, 0.2, 0.31], [1, 2, 3]);
    // 0.1 + 0.2 is a little more than 0.3 in binary fractions.
    expect(plan(tunnels, { budgetPerYear: 0.3 }).best.years[0]?.ids).toEqual(['t0', 't1']);
    const short = plan(tunnels, { budgetPerYear: 0.29 });
    expect(short.best.years[0]?.ids).toEqual(['t1']);
    expect(short.next).toMatchObject({ budgetPerYear: 0.3 });
  });

  it('let several bores be closed in a night where there are crews for them', () => {
    const tunnels = toTunnels([1, 1, 1], [3, 2, 1], 5);
    const count = (own: Partial<ProgrammeInput>) =>
      plan(tunnels, { nightsPerYear: 5, ...own }).best.years[0]?.ids.length;
    expect(count({ crews: 1 })).toBe(1);
    expect(count({ crews: 2 })).toBe(2);
    // Three crews, two to each bore: one bore at a time.
    expect(count({ crews: 3, crewsPerNight: 2 })).toBe(1);
    expect(count({ crews: 4, crewsPerNight: 2 })).toBe(2);
  });

  it('plan what costs nothing, even without a budget', () => {
    const found = plan(toTunnels([0, 5], [1, 9]), { budgetPerYear: 0 });
    expect(found.best.years[0]?.ids).toEqual(['t0']);
    expect(found.best.leftOut).toEqual([{ id: 't1', why: 'too dear' }]);
    expect(plan([]).next).toEqual({ kind: 'all done' });
  });

  it('spare no fewer drivers where the budget is raised, for several years too', () => {
    const tunnels = toTunnels([31, 47, 12, 25, 60, 8, 19], [7.3, 9.1, 0.4, 5.5, 14.2, 2.7, 3.3], 2);
    let before = 0;
    for (let budgetPerYear = 0; budgetPerYear <= 110; budgetPerYear += 5) {
      const { best, byRatio, curve } = plan(tunnels, { budgetPerYear, years: 3, nightsPerYear: 6 });
      expect(best.avoidedDrivers).toBeGreaterThanOrEqual(before - 1e-6);
      expect(best.avoidedDrivers).toBeGreaterThanOrEqual(byRatio.avoidedDrivers - 1e-6);
      expect(curve.length).toBeLessThanOrEqual(12);
      expect(curve.find((point) => point.budgetPerYear === budgetPerYear)?.avoidedDrivers).toBe(
        best.avoidedDrivers,
      );
      before = best.avoidedDrivers;
    }
    expect(before).toBeGreaterThan(0);
  });

  it('throw for a tunnel that is there twice and for a figure that is none', () => {
    const [one] = toTunnels([1], [1]) as [ProgrammeTunnel];
    expect(() => plan([one, one])).toThrow('twice');
    for (const wrong of [{ cost: -1 }, { cost: Number.NaN }, { nights: 1.5 }, { gainPerDay: Number.NaN }]) {
      expect(() => plan([{ ...one, ...wrong }])).toThrow('no usable figures');
    }
  });
});

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

function tunnel(id: string, cost: number, gainPerDay: number, nights = 1): ProgrammeTunnel {
  return { id: id as ComplexId, cost, gainPerDay, nights };
}

function plan(tunnels: readonly ProgrammeTunnel[], own: Partial<ProgrammeInput> = {}) {
  const limits = { years: 1, budgetPerYear: 100, nightsPerYear: 366, crews: 1, crewsPerNight: 1 };
  const planned = planProgramme({ tunnels, ...limits, ...own }, highs, { timeLimitS: 20 });
  if (!planned.ok) throw new Error(planned.refusal.code);
  return planned.value;
}

/** The most that can be avoided, by trying every tunnel in every year and in none. */
function tryAll(tunnels: readonly ProgrammeTunnel[], years: number, budget: number, nights: number): number {
  const spent = Array.from({ length: years }, () => ({ cost: 0, nights: 0 }));
  const from = (i: number): number => {
    const one = tunnels[i];
    if (one === undefined) return 0;
    let best = from(i + 1);
    spent.forEach((year, y) => {
      if (year.cost + one.cost > budget || year.nights + one.nights > nights) return;
      year.cost += one.cost;
      year.nights += one.nights;
      best = Math.max(best, one.gainPerDay * 365 * (years - y) + from(i + 1));
      year.cost -= one.cost;
      year.nights -= one.nights;
    });
    return best;
  };
  return from(0);
}

/** The knapsack of one year by dynamic programming over whole units of money. */
function fillKnapsack(tunnels: readonly ProgrammeTunnel[], budget: number): number {
  const best = new Float64Array(budget + 1);
  for (const { cost, gainPerDay } of tunnels) {
    for (let money = budget; money >= cost; money -= 1) {
      best[money] = Math.max(best[money] as number, (best[money - cost] as number) + gainPerDay);
    }
  }
  return (best[budget] as number) * 365;
}

const anyTunnels = (max: number) =>
  fc
    .array(
      fc.record({
        cost: fc.integer({ min: 1, max: 60 }),
        gain: fc.integer({ min: 0, max: 500 }),
        nights: fc.integer({ min: 1, max: 4 }),
      }),
      { minLength: 1, maxLength: max },
    )
    .map((drawn) => drawn.map(({ cost, gain, nights }, i) => tunnel(`t${i}`, cost, gain, nights)));

describe('planProgramme', () => {
  it('does better than the order by ratio where one dear tunnel is worth two cheap ones', () => {
    // By ratio the small one comes first (10 for each unit) and leaves no money for the great one (9).
    const found = plan([tunnel('small', 10, 100), tunnel('great', 100, 900)]);
    expect(found.best.years[0]?.ids).toEqual(['great']);
    expect(found.byRatio.years[0]?.ids).toEqual(['small']);
    expect(found.best.avoidedDrivers).toBe(900 * 365);
    expect(found.isProven).toBe(true);
    expect(found.best.leftOut).toEqual([{ id: 'small', why: 'others first' }]);
    // Ten more each year pay for both.
    expect(found.next).toMatchObject({ kind: 'step', budgetPerYear: 110, extraPerYear: 10, isProven: true });
  });

  it('equips what gains most first, and counts the year in which it is done', () => {
    const found = plan([tunnel('a', 100, 50), tunnel('b', 100, 80)], { years: 2 });
    expect(found.best.years.map(({ ids }) => ids)).toEqual([['b'], ['a']]);
    expect(found.best.avoidedDrivers).toBe(365 * (80 * 2 + 50));
    expect(found.best.years.map(({ avoidedPerDay }) => avoidedPerDay)).toEqual([80, 130]);
  });

  it('says why a tunnel is in no year', () => {
    const found = plan(
      [tunnel('none', 10, 0), tunnel('dear', 500, 900), tunnel('long', 10, 900, 9), tunnel('ok', 10, 5)],
      { nightsPerYear: 5 },
    );
    expect(found.best.leftOut).toEqual([
      { id: 'dear', why: 'too dear' },
      { id: 'long', why: 'too many nights' },
      { id: 'none', why: 'no gain' },
    ]);
  });

  it('refuses limits that may not be, by their names', () => {
    const limits = { years: 1, budgetPerYear: 100, nightsPerYear: 10, crews: 1, crewsPerNight: 2 };
    expect(planProgramme({ tunnels: [], ...limits }, highs, { timeLimitS: 1 })).toMatchObject({
      refusal: { code: 'rule-invalid', context: { rule: 'Crews', min: 2 } },
    });
    for (const years of [0, 1.5, Number.NaN]) {
      const asked = { tunnels: [], ...limits, crews: 2, years };
      expect(planProgramme(asked, highs, { timeLimitS: 1 }).ok).toBe(false);
    }
  });

  it('finds what trying everything finds, and never less than the order by ratio', () => {
    fc.assert(
      fc.property(
        anyTunnels(6),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 0, max: 150 }),
        fc.integer({ min: 1, max: 8 }),
        (tunnels, years, budgetPerYear, nightsPerYear) => {
          const found = plan(tunnels, { years, budgetPerYear, nightsPerYear });
          expect(found.isProven).toBe(true);
          expect(found.best.avoidedDrivers).toBeCloseTo(
            tryAll(tunnels, years, budgetPerYear, nightsPerYear),
            3,
          );
          expect(found.best.avoidedDrivers).toBeGreaterThanOrEqual(found.byRatio.avoidedDrivers - 1e-3);
          expect(found.best.years.every(({ cost }) => cost <= budgetPerYear)).toBe(true);
          const drivers = found.curve.map(({ avoidedDrivers }) => avoidedDrivers);
          drivers.slice(1).forEach((more, i) => {
            expect(more).toBeGreaterThanOrEqual((drivers[i] as number) - 1e-3);
          });
        },
      ),
      { seed: 41, numRuns: 40 },
    );
  });

  it('fills a knapsack of thirty tunnels as dynamic programming does, whatever their order', () => {
    fc.assert(
      fc.property(anyTunnels(30), fc.integer({ min: 50, max: 400 }), (tunnels, budgetPerYear) => {
        const found = plan(tunnels, { budgetPerYear });
        expect(found.best.avoidedDrivers).toBeCloseTo(fillKnapsack(tunnels, budgetPerYear), 3);
        expect(plan([...tunnels].reverse(), { budgetPerYear })).toEqual(found);
      }),
      { seed: 42, numRuns: 10 },
    );
  });
});

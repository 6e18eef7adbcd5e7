import { join } from 'node:path';
import { pino } from 'pino';
import { beforeAll, describe, expect, it } from 'vitest';
import { createApp } from '../../server/app.ts';
import { openInMemory } from '../../server/store/open-embedded.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { programmeSchema, type RankingView, rankingSchema } from '../../shared/wire/ranking.ts';

const demo = join(import.meta.dirname, '../../data/demo');
const { app, surveys } = createApp({
  store: await openInMemory(),
  overpass: { ask: async () => refused(refusal('overpass-busy')) },
  log: pino({ level: 'silent' }),
  uploadLimitBytes: 50e6,
  version: '0.0.0',
  now: () => new Date('2026-01-01T00:00:00Z'),
});

const post = (path: string, body: unknown, init: RequestInit = {}) =>
  app.request(`/api/surveys/demo/${path}`, {
    method: 'POST',
    body: JSON.stringify(body),
    headers: { 'content-type': 'application/json' },
    ...init,
  });
async function rank(body: unknown = {}): Promise<RankingView> {
  const response = await post('ranking', body);
  expect(response.status).toBe(200);
  return rankingSchema.parse(await response.json());
}
async function plan(body: unknown) {
  const response = await post('programme', body);
  expect(response.status).toBe(200);
  return programmeSchema.parse(await response.json());
}

let plain: RankingView;
beforeAll(async () => {
  const file = { path: join(demo, 'aldermouth.osm'), name: 'aldermouth.osm' };
  await surveys.readOwn(file, { id: 'demo', name: 'Aldermouth', demo: false });
  plain = await rank();
}, 60_000);

const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);

describe('a ranking', () => {
  it('is by what is avoided for a unit of cost, with every term of it', () => {
    expect(plain.rows.length).toBeGreaterThan(15);
    expect(plain.rows.map(({ rank: place }) => place)).toEqual(plain.rows.map((_, i) => i + 1));
    const scores = plain.rows.map(({ score }) => score);
    expect(scores).toEqual([...scores].sort((a, b) => b - a));
    for (const row of plain.rows) {
      expect(row.avoidedPerDay).toBeCloseTo(row.misguidedPerDay - row.misguidedPerDayWithDesign, 6);
      expect(row.cost).toBeCloseTo(sum(row.costTerms.map(({ cost }) => cost)), 6);
      for (const { count, each, cost } of row.costTerms) expect(cost).toBeCloseTo(count * each, 6);
      expect(row.misguidedPerDay).toBeCloseTo(sum(row.terms.map(({ perDay }) => perDay.without)), 6);
      for (const { vehiclesPerDay, reachShare, satnavShare, misguidedShare, perDay } of row.terms) {
        expect(reachShare).toBeGreaterThan(0);
        expect(reachShare).toBeLessThanOrEqual(1);
        const guided = vehiclesPerDay * reachShare * satnavShare;
        expect(perDay.without).toBeCloseTo(guided * misguidedShare.without, 6);
      }
      expect(row.score).toBeCloseTo(row.avoidedPerCost, 9);
    }
  });

  it('has a range for each rank, and what leads to its ends', () => {
    for (const { rank: place, best, worst } of plain.rows) {
      expect(best.rank).toBeLessThanOrEqual(place);
      expect(worst.rank).toBeGreaterThanOrEqual(place);
      expect(best.by === undefined).toBe(best.rank === place);
      expect(worst.by === undefined).toBe(worst.rank === place);
    }
    expect(plain.rows.some(({ best, worst }) => worst.rank > best.rank)).toBe(true);
  });

  it('counts a column of one’s own, and leaves out what a filter does not let through', async () => {
    const fifth = plain.rows[4];
    const values = Object.fromEntries(plain.rows.map(({ id }) => [id, id === fifth?.id ? 10 : 0]));
    const own = await rank({ factors: [{ name: 'complaints', weight: 10, values }] });
    const moved = own.rows.find(({ id }) => id === fifth?.id);
    expect(moved?.factors).toMatchObject([{ name: 'complaints', value: 10, normalised: 1, multiplier: 11 }]);
    expect(moved?.score).toBeCloseTo(11 * (fifth?.score ?? Number.NaN), 9);
    expect(moved?.rank).toBeLessThan(fifth?.rank ?? 0);

    const long = await rank({ filters: [{ field: 'outageS', min: 60 }] });
    expect(long.rows.length + long.leftOut.length).toBe(plain.rows.length + plain.leftOut.length);
    expect(long.rows.every(({ outageS }) => outageS >= 60)).toBe(true);
    expect(long.leftOut.length).toBeGreaterThan(0);
    for (const { unmet } of long.leftOut) expect(unmet.found).toBeLessThan(60);
  });

  it('costs what it is told to', async () => {
    const dear = await rank({ costs: { nightCost: 2 * plain.costs.nightCost } });
    for (const row of dear.rows) {
      const before = plain.rows.find(({ id }) => id === row.id);
      expect(row.cost - (before?.cost ?? 0)).toBeCloseTo(row.nights * plain.costs.nightCost, 6);
    }
  });

  it.each([
    [
      {
        factors: [
          { name: 'a', weight: 1, values: {} },
          { name: 'a', weight: 1, values: {} },
        ],
      },
      'same name',
    ],
    [{ filters: [{ factor: 'unknown', min: 1 }] }, 'no factor unknown'],
    [{ costs: { beaconCost: -1 } }, 'beaconCost'],
    [{ weights: {} }, 'weights'],
  ])('is refused for %j', async (body, named) => {
    const response = await post('ranking', body);
    expect(response.status).toBe(400);
    const problem = (await response.json()) as { code: string; detail: string };
    expect(problem.code).toBe('request-invalid');
    expect(problem.detail).toContain(named);
  });
});

describe('a programme', () => {
  const limits = { years: 3, budgetPerYear: 60_000, nightsPerYear: 30 };

  it('keeps budget and nights, and avoids no less than the simple order does', async () => {
    const made = await plan(limits);
    for (const { best, byRatio } of [made]) {
      for (const { years } of [best, byRatio]) {
        expect(years).toHaveLength(3);
        for (const { cost, nights, ids } of years) {
          expect(cost).toBeLessThanOrEqual(limits.budgetPerYear);
          expect(nights).toBeLessThanOrEqual(limits.nightsPerYear);
          expect(cost).toBeCloseTo(
            sum(ids.map((id) => plain.rows.find((row) => row.id === id)?.cost ?? Number.NaN)),
            4,
          );
        }
      }
      expect(best.avoidedDrivers).toBeGreaterThanOrEqual(byRatio.avoidedDrivers);
      expect(best.avoidedDrivers).toBeGreaterThan(0);
    }
    expect(made.isProven).toBe(true);
    expect(made.boundDrivers).toBeGreaterThanOrEqual(made.best.avoidedDrivers);
    if (made.next.kind !== 'step') throw new Error(`no next step: ${made.next.kind}`);
    expect(made.next.extraPerYear).toBeGreaterThan(0);
    expect(made.next.moreAvoidedDrivers).toBeGreaterThan(0);
    const drivers = made.curve.map(({ avoidedDrivers }) => avoidedDrivers);
    expect(drivers).toEqual([...drivers].sort((a, b) => a - b));
  });

  it('ends where the asker goes away, and the next one is planned', async () => {
    const gone = new AbortController();
    const asked = post('programme', limits, { signal: gone.signal });
    gone.abort();
    // Whether the framework answers or throws: nobody is there to read it.
    await Promise.allSettled([asked]);
    expect((await plan(limits)).isProven).toBe(true);
  });

  it.each([
    [{ ...limits, years: 0 }, 'years'],
    [{ ...limits, budgetPerYear: -1 }, 'budgetPerYear'],
    [{ ...limits, nightsPerYear: 1.5 }, 'nightsPerYear'],
    [{ years: 1 }, 'budgetPerYear'],
  ])('is refused for %j', async (body, named) => {
    const response = await post('programme', body);
    expect(response.status).toBe(400);
    expect(((await response.json()) as { detail: string }).detail).toContain(named);
  });

  it('of an unknown survey is refused', async () => {
    for (const path of ['ranking', 'programme']) {
      const response = await app.request(`/api/surveys/none/${path}`, {
        method: 'POST',
        body: JSON.stringify(path === 'programme' ? limits : {}),
        headers: { 'content-type': 'application/json' },
      });
      expect(response.status).toBe(404);
    }
  });
});

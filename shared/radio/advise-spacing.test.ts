import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/radio.json';
import { adviseSpacing, driftM, type SpacingRow, spacingByCoverageM } from './advise-spacing.ts';
import { detectPass } from './detect-pass.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from './profiles.ts';
import type { SpacingQuestion } from './spacing-question.ts';

const question: SpacingQuestion = {
  beacon: BEACON_PROFILES.standard,
  receiver: RECEIVER_PROFILES.balanced,
  speedMps: 80 / 3.6,
  speedDiscrepancy: 0.2,
  radiusM: 40,
  coverageDepth: 2,
  portalOffsetM: 0,
  failureShare: 0.03,
  wantedErrorM: 30,
  certainty: 0.95,
};

function advise(changed: Partial<SpacingQuestion> = {}) {
  const advice = adviseSpacing({ ...question, ...changed });
  if (!advice.ok) throw new Error(JSON.stringify(advice.refusal));
  return advice.value;
}
const spacings = (rows: readonly SpacingRow[]) => rows.map(({ spacingM, binds }) => [spacingM, binds]);

describe('the error between beacons', () => {
  // Dead reckoning, 40 m apart, assumed 90 km/h: 40 (va / v − 1), exact.
  it.each([
    [75, 40, 8],
    [60, 40, 20],
    [75, 80, 16],
  ])('at %s km/h after %s m is %s m', (speedKmh, distanceM, errorM) => {
    expect(driftM(distanceM, 90 / speedKmh - 1)).toBeCloseTo(errorM, 12);
  });

  it('gives the spacing back: 40 m for these errors, and one that is missed doubles the gap', () => {
    const wide = { radiusM: 200, coverageDepth: 1, speedMps: 25 };
    expect(advise({ ...wide, speedDiscrepancy: 90 / 75 - 1, wantedErrorM: 8 }).rows[0]?.spacingM).toBe(40);
    expect(advise({ ...wide, speedDiscrepancy: 90 / 60 - 1, wantedErrorM: 20 }).rows[0]?.spacingM).toBe(40);
    expect(advise({ ...wide, speedDiscrepancy: 90 / 75 - 1, wantedErrorM: 16 }).rows[1]).toMatchObject({
      byErrorM: expect.closeTo(40, 9),
      spacingM: 40,
      binds: 'error',
    });
  });
});

describe('the chance of one beacon (source in data/oracles/radio.json)', () => {
  const { at1800Ms, advertisingMs, tolerance } = oracle.detection;
  const cells = at1800Ms.flatMap(({ windowMs, intervalMs, found }) =>
    found.map((p, i) => ({ windowMs, intervalMs, adv: advertisingMs[i] as number, p })),
  );
  it.each(cells)('$windowMs/$intervalMs ms, advertising $adv ms: $p', ({ windowMs, intervalMs, adv, p }) => {
    // 40 m in 1.8 s, every car at the same speed, none failed. One other beacon is in range.
    const { rows } = advise({
      beacon: { intervalMs: adv, payloadBytes: 31 },
      receiver: { scanWindowMs: windowMs, scanIntervalMs: intervalMs },
      speedMps: 40 / 1.8,
      speedDiscrepancy: 0,
      radiusM: 20,
      coverageDepth: 1,
      failureShare: 0,
      certainty: 0.5,
    });
    const collisions = 0.004;
    expect(Math.abs((rows[0]?.chance as number) - p)).toBeLessThanOrEqual(tolerance + collisions);
    expect(rows[0]?.spacingM).toBe(p > 0.5 ? 40 : undefined);
  });
});

describe('spacing by coverage', () => {
  it.each([
    [40, 1, 0, 80],
    [40, 2, 0, 40],
    [40, 2, 10, 30],
    [60, 3, 0, 30],
    [60, 4, 0, 20],
    [40, 3, 50, 0],
  ])('radius %s m, depth %s, %s m inside the portal: %s m', (radiusM, depth, offsetM, spacingM) => {
    expect(spacingByCoverageM(radiusM, depth, offsetM)).toBeCloseTo(spacingM, 9);
  });

  it('hears as many as wanted everywhere from the portal on, and no more would do', () => {
    const fewest = (radiusM: number, offsetM: number, spacingM: number) => {
      const beacons = Array.from({ length: 60 }, (_, i) => offsetM + i * spacingM);
      const places = Array.from({ length: 800 }, (_, i) => i * 0.25 + 0.1);
      const counts = places.map((at) => beacons.filter((b) => Math.abs(b - at) <= radiusM).length);
      return Math.min(...counts);
    };
    for (const depth of [2, 3, 4]) {
      for (const offsetM of [0, 12]) {
        const spacingM = spacingByCoverageM(60, depth, offsetM);
        expect(fewest(60, offsetM, spacingM * 0.999)).toBeGreaterThanOrEqual(depth);
        expect(fewest(60, offsetM, spacingM * 1.05)).toBeLessThan(depth);
      }
    }
  });
});

describe('advice', () => {
  it('says for each redundancy what binds', () => {
    const { rows } = advise();
    expect(spacings(rows)).toEqual([
      [40, 'coverage'],
      [40, 'coverage'],
      [40, 'coverage'],
      [37, 'error'],
    ]);
    expect(rows.map(({ byErrorM }) => Math.round(byErrorM * 10) / 10)).toEqual([150, 75, 50, 37.5]);
  });

  it('recommends the fewest beacons, of equal spacings the greatest redundancy', () => {
    expect(advise().recommended).toMatchObject({ redundancy: 3, spacingM: 40 });
    expect(advise({ wantedErrorM: 15 }).recommended).toMatchObject({ redundancy: 2, spacingM: 37 });
  });

  it('never recommends redundancy 1, which no beacon that fails would keep', () => {
    const { rows, recommended } = advise({ radiusM: 135 });
    expect(rows[0]?.spacingM).toBeGreaterThan(rows[1]?.spacingM as number);
    expect(recommended?.redundancy).toBe(2);
  });

  it('goes by failed beacons and by certainty', () => {
    expect(advise({ failureShare: 0.06 }).rows[0]).toMatchObject({ binds: 'certainty' });
    expect(advise({ failureShare: 0.06 }).rows[0]?.spacingM).toBeUndefined();
    expect(advise({ failureShare: 0.04 }).rows[0]?.spacingM).toBe(40);
    expect(advise({ certainty: 0.9999 }).rows[1]?.spacingM).toBeUndefined();
  });

  it('recommends nothing where no spacing serves, and says why', () => {
    const sparing = { beacon: BEACON_PROFILES.sparing, receiver: RECEIVER_PROFILES['low-power'] };
    const seldom = advise(sparing);
    expect(seldom).not.toHaveProperty('recommended');
    for (const row of seldom.rows) {
      expect(row).toMatchObject({ binds: 'certainty' });
      expect(row.chance).toBeLessThan(0.95);
    }
    const strict = advise({ wantedErrorM: 1, speedDiscrepancy: 1 });
    expect(spacings(strict.rows)).toEqual(Array(4).fill([undefined, 'error']));
    expect(spacings(advise({ radiusM: 4 }).rows)).toEqual(Array(4).fill([undefined, 'coverage']));
  });

  it('ends at 500 m where nothing else binds', () => {
    const { rows } = advise({ speedDiscrepancy: 0, radiusM: 500, coverageDepth: 1 });
    expect(rows[0]).toMatchObject({ byErrorM: Number.POSITIVE_INFINITY, spacingM: 500, binds: 'longest' });
  });

  it('keeps every limit at every speed, and one metre more would not', () => {
    const anyQuestion = fc.record({
      beacon: fc.constantFrom(...Object.values(BEACON_PROFILES)),
      receiver: fc.constantFrom(...Object.values(RECEIVER_PROFILES)),
      speedMps: fc.integer({ min: 10, max: 36 }),
      speedDiscrepancy: fc.constantFrom(0, 0.1, 0.3),
      radiusM: fc.integer({ min: 15, max: 80 }),
      coverageDepth: fc.integer({ min: 1, max: 3 }),
      wantedErrorM: fc.integer({ min: 3, max: 60 }),
      certainty: fc.constantFrom(0.8, 0.95, 0.99),
    });
    fc.assert(
      fc.property(anyQuestion, (asked) => {
        const { rows, speedsMps } = advise(asked);
        const { beacon, receiver, radiusM } = asked;
        const chanceAt = (beacons: number, spacingM: number) =>
          speedsMps.map((speedMps) => {
            const otherBeacons = Math.floor((2 * radiusM) / spacingM);
            const pass = { beacon, receiver, otherBeacons, timeInRangeS: (2 * radiusM) / speedMps };
            const row = { beacons, apartS: spacingM / speedMps, failureShare: 0.03 };
            const chance = detectPass({ ...pass, ...row });
            return chance.ok ? chance.value : Number.NaN;
          });
        for (const { redundancy, spacingM, chance, binds, byErrorM, byCoverageM } of rows) {
          if (spacingM === undefined) continue;
          expect(driftM(redundancy * spacingM, asked.speedDiscrepancy)).toBeLessThanOrEqual(
            asked.wantedErrorM + 1e-6,
          );
          expect(spacingM).toBeLessThanOrEqual(spacingByCoverageM(radiusM, asked.coverageDepth, 0) + 1e-6);
          const chances = chanceAt(redundancy, spacingM);
          expect(Math.min(...chances)).toBeCloseTo(chance as number, 12);
          expect(chance).toBeGreaterThanOrEqual(asked.certainty);
          const next = spacingM + 1;
          if (binds === 'certainty') {
            expect(Math.min(...chanceAt(redundancy, next))).toBeLessThan(asked.certainty);
          } else expect(next).toBeGreaterThan(Math.min(byErrorM, byCoverageM, 500));
        }
      }),
      { seed: 9, numRuns: 30 },
    );
  });

  it.each([
    ['speedMps', { speedMps: 0 }],
    ['speedDiscrepancy', { speedDiscrepancy: -0.1 }],
    ['radiusM', { radiusM: Number.NaN }],
    ['wantedErrorM', { wantedErrorM: 0 }],
    ['certainty', { certainty: 1 }],
    ['intervalMs', { beacon: { ...BEACON_PROFILES.standard, intervalMs: 1 } }],
  ])('refuses %s out of range', (rule, changed) => {
    const advice = adviseSpacing({ ...question, ...changed });
    expect(advice.ok || advice.refusal).toMatchObject({ code: 'rule-invalid', context: { rule } });
  });
});

import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/radio.json';
import { airTimeUs } from './air-time.ts';
import { breakPointM } from './break-point.ts';
import { survivesCollision } from './collision.ts';
import { findRange } from './find-range.ts';
import { freeSpaceLossDb } from './free-space-loss.ts';
import { buildLinkBudget, type LinkInput } from './link-budget.ts';
import { checkPower } from './power-limits.ts';
import { RECEIVER_PROFILES } from './profiles.ts';
import { timeInRangeS } from './time-in-range.ts';
import { waveguideLossDbPerM } from './waveguide-loss.ts';

const input: LinkInput = {
  beacon: { txPowerDbm: 0, antennaDbi: 0 },
  receiver: { ...RECEIVER_PROFILES.balanced, fadingMarginDb: 0 },
  frequencyMhz: 2426,
  mountingHeightM: 4.5,
  bore: { widthM: 9, heightM: 5, permittivity: 5.24, polarisation: 'vertical' },
};

const budgetAt = (distanceM: number, changed: Partial<LinkInput> = {}) => {
  const budget = buildLinkBudget({ ...input, ...changed }, distanceM);
  if (!budget.ok) throw new Error(budget.refusal.code);
  return budget.value;
};

const near = (value: number, expected: number, tolerance: number) =>
  expect(Math.abs(value - expected)).toBeLessThanOrEqual(tolerance);

describe('parts of the budget (sources in data/oracles/radio.json)', () => {
  it.each(oracle.freeSpaceDb.values)('free space at $frequencyMhz MHz', (row) => {
    const distances = [
      [1, row.at1M],
      [10, row.at10M],
      [40, row.at40M],
      [100, row.at100M],
    ] as const;
    for (const [distanceM, lossDb] of distances) {
      near(freeSpaceLossDb(distanceM, row.frequencyMhz), lossDb, 0.006);
      const rounded = 32.4 + 20 * Math.log10(row.frequencyMhz) + 20 * Math.log10(distanceM / 1000);
      near(freeSpaceLossDb(distanceM, row.frequencyMhz), rounded, oracle.freeSpaceDb.toleranceDb);
    }
  });

  it.each(oracle.breakPointM.values)(
    'break point $height1M/$height2M m',
    ({ height1M, height2M, breakM }) => {
      near(breakPointM(height1M, height2M, 2440), breakM, 0.01);
    },
  );

  it.each(oracle.waveguideDbPer100M.values)('guided $widthM × $heightM m, εr $permittivity', (row) => {
    for (const polarisation of ['horizontal', 'vertical'] as const) {
      const lossDb = 100 * waveguideLossDbPerM({ ...row, polarisation }, 2440);
      near(lossDb, row[polarisation], row[polarisation] * 0.01);
    }
  });

  it('gives higher modes what their half waves cost', () => {
    const lossDb = (across: number, up: number) => waveguideLossDbPerM(input.bore, 2440, { across, up });
    // Linear in m² and in n².
    near(
      lossDb(3, 2),
      lossDb(1, 1) + (8 * (lossDb(2, 1) - lossDb(1, 1))) / 3 + (lossDb(1, 2) - lossDb(1, 1)),
      1e-12,
    );
    expect(lossDb(1, 2)).toBeGreaterThan(lossDb(2, 1));
  });

  it.each(oracle.airTimeUs.values)('air time of $payloadBytes bytes', ({ payloadBytes, onAirUs }) => {
    expect(airTimeUs(payloadBytes)).toBe(onAirUs);
  });

  it.each(oracle.collision.values)('collisions: $otherBeacons others each $intervalMs ms', (row) => {
    near(survivesCollision({ ...row, airTimeUs: 376 }), row.survives, 1e-5);
  });

  it.each(oracle.timeInRangeS.values)('in range $rangeM m at $speedKmh km/h', (row) => {
    near(timeInRangeS(row.rangeM, row.offsetM, row.speedKmh / 3.6), row.timeS, 0.0006);
  });

  it('is never in range of what is farther aside than the range', () => {
    expect(timeInRangeS(3, 4, 10)).toBe(0);
  });
});

describe('link budget', () => {
  it.each(oracle.budget.values)('at 40 m with $vehicleLossDb dB into the car', (row) => {
    const { levelDbm, leftDb } = budgetAt(40, {
      receiver: { ...input.receiver, vehicleLossDb: row.vehicleLossDb },
    });
    near(levelDbm, row.levelDbm, oracle.budget.toleranceDb);
    near(leftDb, row.leftDb, oracle.budget.toleranceDb);
  });

  it('names every term, losses negative, and sums them up', () => {
    const receiver = { ...input.receiver, gainDbi: -2, fadingMarginDb: 10 };
    const { terms, levelDbm } = budgetAt(40, { beacon: { txPowerDbm: 4, antennaDbi: 2 }, receiver });
    const rounded = terms.map(({ name, value, unit }) => [name, Math.round(value * 10) / 10 + 0, unit]);
    expect(rounded).toEqual([
      ['transmit', 4, 'dBm'],
      ['antenna', 2, 'dBi'],
      ['freeSpace', -72.2, 'dB'],
      ['guided', 0, 'dB'],
      ['vehicle', -9, 'dB'],
      ['gain', -2, 'dBi'],
      ['fading', -10, 'dB'],
    ]);
    near(levelDbm, 4 + 2 - 72.2 - 9 - 2 - 10, 0.05);
  });

  it('takes the guided loss beyond the break point where it is the larger one', () => {
    // Narrow and low: 2 × 2.2 m guides badly. At 500 m free space has lost 9 dB since the break point.
    const bore = { ...input.bore, widthM: 2, heightM: 2.2 };
    const perM = waveguideLossDbPerM(bore, 2426);
    const breakM = breakPointM(4.5, 1.2, 2426);
    const { terms, breakPointM: foundM } = budgetAt(500, { bore });
    expect(foundM).toBe(breakM);
    const guidedDb = freeSpaceLossDb(breakM, 2426) + perM * (500 - breakM) - freeSpaceLossDb(500, 2426);
    near(terms.find(({ name }) => name === 'guided')?.value as number, -Math.max(0, guidedDb), 1e-9);
    const metal = { ...bore, permittivity: 80 };
    const more = budgetAt(1500, { bore: metal }).terms.find(({ name }) => name === 'guided')?.value as number;
    expect(more).toBeLessThan(-1);
    expect(budgetAt(breakM - 1, { bore: metal }).terms[3]?.value).toBeCloseTo(0, 9);
  });

  it.each([
    ['distanceM', 0, {}],
    ['distanceM', Number.NaN, {}],
    ['frequencyMhz', 40, { frequencyMhz: 900 }],
    ['txPowerDbm', 40, { beacon: { txPowerDbm: 20.5, antennaDbi: 0 } }],
    ['antennaDbi', 40, { beacon: { txPowerDbm: 0, antennaDbi: Number.NaN } }],
    ['sensitivityDbm', 40, { receiver: { ...input.receiver, sensitivityDbm: 0 } }],
    ['widthM', 40, { bore: { ...input.bore, widthM: -1 } }],
  ])('refuses %s out of range', (rule, distanceM, changed) => {
    const budget = buildLinkBudget({ ...input, ...changed }, distanceM);
    expect(budget.ok || budget.refusal).toMatchObject({ code: 'rule-invalid', context: { rule } });
  });
});

describe('range', () => {
  const rangeOf = (changed: Partial<LinkInput>) => {
    const range = findRange({ ...input, ...changed });
    return range.ok ? range.value : Number.NaN;
  };

  it('is where the level meets the sensitivity', () => {
    // Free space alone: 12.8 dB left at 40 m are a factor 10^(12.8/20).
    near(rangeOf({}), 40 * 10 ** (12.8 / 20), 1);
    near(budgetAt(rangeOf({})).leftDb, 0, 1e-4);
    const withMargin = { receiver: { ...input.receiver, fadingMarginDb: 10 } };
    near(rangeOf(withMargin), rangeOf({}) / 10 ** (10 / 20), 0.01);
  });

  it('is 0 where nothing is heard and ends with the model', () => {
    const weak = { txPowerDbm: -20, antennaDbi: -20 };
    expect(rangeOf({ beacon: weak, receiver: { ...input.receiver, sensitivityDbm: -40 } })).toBe(0);
    expect(rangeOf({ beacon: { txPowerDbm: 20, antennaDbi: 10 } })).toBe(2000);
  });

  it('refuses what the budget refuses', () => {
    expect(findRange({ ...input, frequencyMhz: 5000 })).toMatchObject({ ok: false });
  });
});

describe('power limits', () => {
  // EN 300 328 10 dBm/MHz [P]; FCC 15.247 36 dBm [P, secondary].
  it.each([
    [0, true, true],
    [10, true, true],
    [10.1, false, true],
    [36, false, true],
    [36.5, false, false],
  ])('%s dBm: Europe %s, United States %s', (eirpDbm, europe, unitedStates) => {
    expect(checkPower(eirpDbm).map(({ region, isKept }) => [region, isKept])).toEqual([
      ['europe', europe],
      ['united-states', unitedStates],
    ]);
  });
});

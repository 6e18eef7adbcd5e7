import { describe, expect, it } from 'vitest';
import { drawTunnel } from '../../tests/places/draw-tunnel.ts';
import { COST_FIELDS, checkCosts, countByBore, DEFAULT_COSTS, estimateCost } from './cost.ts';

const costs = { ...DEFAULT_COSTS, beaconCost: 100, nightCost: 4000, crewNightCost: 1000 };

function estimate(boreCounts: readonly number[], over: Partial<typeof costs> = {}) {
  const result = estimateCost(boreCounts, { ...costs, ...over });
  if (!result.ok) throw new Error(result.refusal.code);
  return result.value;
}

describe('estimateCost', () => {
  it('mounts 66 beacons in a night of 22:00 to 05:00 with 45 min at both ends, and 59 in one', () => {
    expect(estimate([66])).toMatchObject({ beaconsPerNight: 66, nights: 1 });
    expect(estimate([67]).nights).toBe(2);
    expect(estimate([59])).toEqual({
      beacons: 59,
      nights: 1,
      beaconsPerNight: 66,
      cost: 5900 + 4000 + 1000,
      terms: [
        { name: 'beacons', count: 59, each: 100, cost: 5900 },
        { name: 'closure nights', count: 1, each: 4000, cost: 4000 },
        { name: 'crew nights', count: 1, each: 1000, cost: 1000 },
      ],
    });
  });

  it('shares no night between bores, and needs none for a bore without beacons', () => {
    expect(estimate([30, 30]).nights).toBe(2);
    expect(estimate([60, 0]).nights).toBe(1);
    expect(estimate([])).toMatchObject({ beacons: 0, nights: 0, cost: 0 });
  });

  it('halves the nights with two crews, and pays both for each', () => {
    const { nights, terms } = estimate([264], { crewsPerNight: 2 });
    expect(nights).toBe(2);
    expect(terms[2]).toMatchObject({ count: 4, cost: 4000 });
  });

  it('refuses a window without time for a beacon, and values outside their range', () => {
    expect(checkCosts({ ...costs, windowH: 1.5 })).toMatchObject({
      code: 'window-too-short',
      context: { windowH: 1.5, workMin: 0 },
    });
    expect(checkCosts({ ...costs, windowH: 1 })).toMatchObject({ context: { workMin: 0 } });
    expect(checkCosts({ ...costs, windowH: 1.75 })).toBeUndefined();
    for (const [name, { max }] of Object.entries(COST_FIELDS)) {
      expect(checkCosts({ ...costs, [name]: max * 2 })?.code).toBe('rule-invalid');
      expect(checkCosts({ ...costs, [name]: Number.NaN })?.code).toBe('rule-invalid');
    }
    expect(checkCosts({ ...costs, crewsPerNight: 1.5 })?.code).toBe('rule-invalid');
    expect(estimateCost([1], { ...costs, nightCost: -1 }).ok).toBe(false);
    expect(() => estimateCost([1.5], costs)).toThrow('no number of beacons');
  });

  it('says of each value what it is, within its own range', () => {
    expect(checkCosts(DEFAULT_COSTS)).toBeUndefined();
    for (const { source, meaning } of Object.values(COST_FIELDS)) {
      expect(source).toContain('no source');
      expect(meaning).toMatch(/\.$/);
    }
  });
});

describe('countByBore', () => {
  it('counts a ramp with the bore that it hangs on, and a second bore by itself', () => {
    const forked = drawTunnel(1000, [{ at: 0.5, lengthM: 200, joins: false }], false).links;
    expect(forked.length).toBeGreaterThan(2);
    const all = forked.map(({ id }) => ({ at: { linkId: id, chainageM: 0 } }));
    expect(countByBore(forked, all)).toEqual([forked.length]);
    const apart = forked.map((link, i) => ({ ...link, fromNode: 2 * i, toNode: 2 * i + 1 }));
    expect(countByBore(apart, all.slice(0, 2))).toEqual([1, 1, ...apart.slice(2).map(() => 0)]);
  });
});

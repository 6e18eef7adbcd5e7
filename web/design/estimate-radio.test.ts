import { describe, expect, it } from 'vitest';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { Link } from '../../shared/network/network.ts';
import { DEFAULT_RULES, type Rules } from '../../shared/placement/rules.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { estimateRadio } from './estimate-radio.ts';

const { links } = buildNetwork(
  drawPlace({
    nodes: { 1: [0, 0], 2: [900, 0] },
    ways: [
      {
        id: 1,
        nodes: [1, 2],
        tags: { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' },
      },
    ],
  }),
  NETWORK_RULES,
).value;

function estimate(changed: Partial<Rules> = {}, through = links) {
  const result = estimateRadio({ links: through, rules: { ...DEFAULT_RULES, ...changed } });
  if (!result.ok) throw new Error(result.refusal.code);
  return result.value;
}

describe('radio of a tunnel', () => {
  it('hears the default beacon a little farther than the default radius', () => {
    const { rangeM, heardM, budget } = estimate();
    // By hand: 0 − 9 − 10 + 94 = 75 dB of free space at 2480 MHz are 54.1 m; 6.25 m aside and 1.8 m down.
    expect(rangeM).toBeCloseTo(Math.sqrt(54.1 ** 2 - 6.25 ** 2 - 1.8 ** 2), 0);
    expect(heardM).toBe(40);
    expect(budget.leftDb).toBeGreaterThan(0);
  });

  it('drives at the limit and at half of it, past two others in range', () => {
    const { passes, otherBeacons, inRow } = estimate();
    expect(passes.map(({ speedMps }) => Math.round(speedMps * 3.6))).toEqual([80, 40]);
    expect([otherBeacons, inRow]).toEqual([2, 2]);
    for (const { one, row } of passes) expect(row).toBeGreaterThanOrEqual(one - 1e-6);
  });

  it('goes by the model where the radius by hand is more than it hears', () => {
    const { rangeM, heardM, radiusM, budget } = estimate({ coverageRadiusM: 200 });
    expect([heardM, radiusM]).toEqual([rangeM, 200]);
    expect(budget.leftDb).toBeLessThan(0);
  });

  it('goes by what was measured, whatever the model says', () => {
    const measured = { coverageSource: 'measured', measuredRadiusM: 70 } as const;
    const { rangeM, heardM } = estimate(measured);
    expect(heardM).toBe(70);
    expect(rangeM).toBeLessThan(heardM);
  });

  it('takes the radius from the model where the rules say so, and has nothing over there', () => {
    const { rangeM, radiusM, greatestRadiusM, budget } = estimate({ coverageSource: 'model' });
    expect(radiusM).toBe(Math.floor(rangeM * 10) / 10);
    expect(greatestRadiusM).toBe(radiusM);
    expect(budget.leftDb).toBeGreaterThanOrEqual(0);
    expect(budget.leftDb).toBeLessThan(0.05);
  });

  it('tells the radius of the widest bore from that of the narrowest', () => {
    const [link] = links as [Link];
    const wide = { ...link, stretches: link.stretches.map((part) => ({ ...part, widthM: 20 })) };
    const { radiusM, greatestRadiusM, rangeM } = estimate({ coverageSource: 'model' }, [link, wide]);
    expect(radiusM).toBeLessThan(greatestRadiusM);
    expect(radiusM).toBe(Math.floor(rangeM * 10) / 10);
  });

  it('follows the profiles', () => {
    expect(estimate({ beaconProfile: 'strong' }).rangeM).toBeGreaterThan(2 * estimate().rangeM);
    const sparse = estimate({ receiverProfile: 'sparse' });
    expect(sparse.passes[0]?.one).toBeLessThan((estimate().passes[0]?.one as number) - 0.1);
  });
});

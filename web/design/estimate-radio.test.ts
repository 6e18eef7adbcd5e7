import { describe, expect, it } from 'vitest';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../../shared/radio/profiles.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { estimateRadio, type RadioInput } from './estimate-radio.ts';

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

const input: RadioInput = {
  links,
  rules: DEFAULT_RULES,
  beacon: BEACON_PROFILES.standard,
  receiver: RECEIVER_PROFILES.balanced,
};

function estimate(changed: Partial<RadioInput>) {
  const result = estimateRadio({ ...input, ...changed });
  if (!result.ok) throw new Error(result.refusal.code);
  return result.value;
}

describe('radio of a tunnel', () => {
  it('hears the default beacon a little farther than the default radius', () => {
    const { rangeM, heardM, budget } = estimate({});
    // By hand: 0 − 9 − 10 + 94 = 75 dB of free space at 2480 MHz are 54.1 m; 6.25 m aside and 1.8 m down.
    expect(rangeM).toBeCloseTo(Math.sqrt(54.1 ** 2 - 6.25 ** 2 - 1.8 ** 2), 0);
    expect(heardM).toBe(40);
    expect(budget.leftDb).toBeGreaterThan(0);
  });

  it('drives at the limit and at half of it, past two others in range', () => {
    const { passes, otherBeacons, inRow } = estimate({});
    expect(passes.map(({ speedMps }) => Math.round(speedMps * 3.6))).toEqual([80, 40]);
    expect([otherBeacons, inRow]).toEqual([2, 2]);
    for (const { one, row } of passes) expect(row).toBeGreaterThanOrEqual(one - 1e-6);
  });

  it('goes by the model where the radius in use is more than it hears', () => {
    const rules = { ...DEFAULT_RULES, coverageRadiusM: 200 };
    const { rangeM, heardM, budget } = estimate({ rules });
    expect(heardM).toBe(rangeM);
    expect(budget.leftDb).toBeLessThan(0);
  });

  it('says what the model refuses', () => {
    const beacon = { ...BEACON_PROFILES.standard, intervalMs: 1 };
    expect(estimateRadio({ ...input, beacon })).toMatchObject({
      ok: false,
      refusal: { code: 'rule-invalid' },
    });
  });
});

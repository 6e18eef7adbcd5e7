import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { Link, LinkId } from '../network/network.ts';
import type { Beacon, BeaconId } from './beacon.ts';
import { describeBoreRadio } from './bore-radio.ts';
import { listHeard } from './list-heard.ts';
import { findModelRangeM, makeRadius } from './make-radius.ts';
import { CHOICE_RULES, DEFAULT_RULES, NUMBER_RULES, type Rules } from './rules.ts';

const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes' };

/** 300 m with two lanes, then 300 m with a carriageway of 20 m. */
const { links } = buildNetwork(
  drawPlace({
    nodes: { 1: [0, 0], 2: [300, 0], 3: [600, 0] },
    ways: [
      { id: 11, nodes: [1, 2], tags: { ...bore, lanes: '2' } },
      { id: 12, nodes: [2, 3], tags: { ...bore, lanes: '5', width: '20' } },
    ],
  }),
  NETWORK_RULES,
).value;
const [link] = links as [Link];
const model: Rules = { ...DEFAULT_RULES, coverageSource: 'model' };
const radiusAt = (rules: Partial<Rules>, chainageM = 100) =>
  makeRadius({ ...model, ...rules })(link, chainageM);

describe('radius of coverage', () => {
  it('is by hand or as measured where the rules say so', () => {
    const rules = { coverageRadiusM: 33, measuredRadiusM: 27 };
    expect(radiusAt({ ...rules, coverageSource: 'hand' })).toBe(33);
    expect(radiusAt({ ...rules, coverageSource: 'measured' })).toBe(27);
    expect(radiusAt(rules)).toBe(radiusAt({}));
  });

  it('is what the model hears, from the wall to the far lane', () => {
    // By hand: 0 − 9 − 10 + 94 = 75 dB of free space at 2480 MHz, from antenna to antenna.
    const slantM = (10 ** (75 / 20) * 299_792_458) / (4 * Math.PI * 2480e6);
    const nearM = Math.sqrt(slantM ** 2 - (7 + 1 - 1.75) ** 2 - 1.8 ** 2);
    const wideM = Math.sqrt(slantM ** 2 - (20 + 1 - 1.75) ** 2 - 1.8 ** 2);
    expect(radiusAt({}, 100)).toBe(Math.floor(nearM * 10) / 10);
    expect(radiusAt({}, 500)).toBe(Math.floor(wideM * 10) / 10);
  });

  it('follows profiles, heights and shoulder', () => {
    const standardM = radiusAt({});
    expect(radiusAt({ beaconProfile: 'strong' })).toBeGreaterThan(2 * standardM);
    expect(radiusAt({ beaconProfile: 'sparing' })).toBe(standardM);
    expect(radiusAt({ mountingHeightM: 8 })).toBeLessThan(standardM);
    expect(radiusAt({ shoulderM: 6 })).toBeLessThan(standardM);
  });

  it('takes the height of the bore into the guided loss', () => {
    const { input } = describeBoreRadio(3.5, { ...DEFAULT_RULES, boreHeightM: 4.2 });
    expect(input.bore).toMatchObject({ widthM: 9, heightM: 4.2 });
  });

  it('counts a narrow bore to its middle, not beyond the beacon’s own wall', () => {
    const { asideM } = describeBoreRadio(1, { ...DEFAULT_RULES, laneWidthM: 6, shoulderM: 0.5 });
    expect(asideM).toBeCloseTo(Math.hypot(1.5, 1.8), 12);
  });

  it('is 1 m where the far lane hears nothing', () => {
    expect(findModelRangeM(60, DEFAULT_RULES)).toBe(0);
    const wide = { ...link, stretches: [{ ...link.stretches[0], widthM: 60 }] } as unknown as Link;
    expect(makeRadius(model)(wide, 10)).toBe(1);
  });

  it('never fails and stays within 1 to 500 m for any rules in range and any width that data give', () => {
    const between = (rule: keyof typeof NUMBER_RULES) => {
      const { min, max } = NUMBER_RULES[rule];
      return fc.oneof(fc.constantFrom(min, max), fc.double({ min, max, noNaN: true }));
    };
    const optionOf = (rule: 'beaconProfile' | 'receiverProfile') =>
      fc.constantFrom(...Object.keys(CHOICE_RULES[rule].options));
    const anyRules = fc.record({
      mountingHeightM: between('mountingHeightM'),
      laneWidthM: between('laneWidthM'),
      shoulderM: between('shoulderM'),
      boreHeightM: between('boreHeightM'),
      beaconProfile: optionOf('beaconProfile'),
      receiverProfile: optionOf('receiverProfile'),
    });
    const anyHalfM = fc.oneof(fc.constantFrom(0.75, 30, 60), fc.double({ min: 0.75, max: 60, noNaN: true }));
    fc.assert(
      fc.property(anyRules, anyHalfM, (rules, halfM) => {
        const widthM = 2 * halfM;
        const wide = { ...link, stretches: [{ ...link.stretches[0], widthM }] } as unknown as Link;
        const radiusM = makeRadius({ ...model, ...rules } as Rules)(wide, 10);
        expect(radiusM).toBeGreaterThanOrEqual(1);
        expect(radiusM).toBeLessThanOrEqual(500);
      }),
      { seed: 5, numRuns: 400 },
    );
  });
});

describe('coverage of a design', () => {
  const beacon = (id: string, chainageM: number, radiusM?: number): Beacon => ({
    id: id as BeaconId,
    at: { linkId: link.id, chainageM },
    anchor: 'chainage',
    role: 'spacing',
    side: 'right',
    offsetM: 4.5,
    heightM: 3,
    locked: false,
    ...(radiusM === undefined ? {} : { radiusM }),
  });

  it('takes the radius of each place, and a beacon’s own before it', () => {
    const heard = listHeard(links, model, [beacon('a', 100), beacon('b', 500), beacon('c', 200, 12)]);
    expect(heard.map(({ beaconId, radiusM }) => [beaconId, radiusM])).toEqual([
      ['a', radiusAt({}, 100)],
      ['b', radiusAt({}, 500)],
      ['c', 12],
    ]);
    expect(heard[2]?.stretches).toEqual([{ linkId: link.id, fromM: 188, toM: 212 }]);
  });

  it('is nothing for a beacon on a link that is not there', () => {
    const lost = { ...beacon('a', 100), at: { linkId: 'gone' as LinkId, chainageM: 5 } };
    expect(listHeard(links, model, [lost])).toEqual([{ beaconId: 'a', radiusM: 0, stretches: [] }]);
  });
});

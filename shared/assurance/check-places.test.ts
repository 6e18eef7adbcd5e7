import { describe, expect, it } from 'vitest';
import type { KeepOut } from '../placement/keep-out.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { check, checkLaid, of } from './check-laid.fixture.ts';
import { layPlain, moveTo, stand } from './lay-plain.fixture.ts';
import { drawNetwork, type Nodes } from './network.fixture.ts';

const straight: Nodes = { 1: [0, 0], 2: [400, 0] };
const fork = drawNetwork({ 1: [0, 0], 2: [200, 0], 3: [400, 20], 4: [400, -80] }, [
  [1, 2],
  [2, 3],
  [2, 4],
]);

describe('coverage', () => {
  const network = drawNetwork(straight, [[1, 2]]);
  const link = network.links[0]?.id as never;
  const laid = layPlain(network, DEFAULT_RULES);
  const twice = { ...DEFAULT_RULES, coverageDepth: 2 };

  it('is met where every place hears as many as the rules ask for', () => {
    // Ten intervals of 40 m and a radius of 40 m: two everywhere, three nowhere.
    expect(of(checkLaid(network, twice, laid), 'coverage')).toMatchObject({
      status: 'met',
      required: 2,
      found: 2,
      unit: 'beacons',
    });
    const deep = of(check(network, { coverageDepth: 3 }), 'coverage');
    expect(deep).toMatchObject({ status: 'not met', required: 3, found: 2, mend: 'reach-farther' });
  });

  it('names a stretch with too few once, where the fewest are heard', () => {
    // Without those at 200 and 240 m: one is heard from 160 to 200 m and from 240 to 280 m, none between.
    const few = laid.filter(({ at }) => at.chainageM < 190 || at.chainageM > 250);
    const found = of(checkLaid(network, twice, few), 'coverage');
    expect(found).toMatchObject({ status: 'not met', found: 0, mend: 'reduce-spacing' });
    expect(found.where.map(({ chainageM }) => Math.round(chainageM))).toEqual([220]);
  });

  it('blames the moved beacon, or the radius where no layout at this spacing would do', () => {
    const moved = moveTo(laid, laid[5]?.id as string, { linkId: link, chainageM: 170 });
    // 80 m from 160 to 240 m with one at 170 m: from 210 to 240 m only the one at 240 m is heard.
    const found = of(checkLaid(network, twice, moved), 'coverage');
    expect(found).toMatchObject({ status: 'not met', found: 1, mend: 'release-beacon' });
    const short = { ...twice, coverageRadiusM: 39 };
    expect(of(checkLaid(network, short, moved), 'coverage').mend).toBe('reach-farther');
  });
});

describe('a beacon in a keep-out', () => {
  it('is named with how far inside it stands', () => {
    const network = drawNetwork(straight, [[1, 2]]);
    const linkId = network.links[0]?.id as never;
    const beacons = layPlain(network, DEFAULT_RULES);
    const fan: KeepOut = { id: 'k1', linkId, fromM: 193, toM: 230, wall: 'right', reason: 'fan' };
    const found = of(checkLaid(network, DEFAULT_RULES, beacons, [fan]), 'keep-out');
    expect(found).toMatchObject({ status: 'not met', required: 0, unit: 'm', mend: 'leave-keep-out' });
    expect(found.found).toBeCloseTo(7, 1);
    expect(found.where.map(({ beaconId }) => beaconId)).toEqual([beacons[5]?.id]);
    const beside = { ...fan, wall: 'left' } as const;
    const clear = of(checkLaid(network, DEFAULT_RULES, beacons, [beside]), 'keep-out');
    expect(clear).toMatchObject({ status: 'met', found: 0 });
  });
});

describe('forks', () => {
  it('tell the pairs that are heard from both branches, and ask nothing', () => {
    const found = of(check(fork), 'sister-pairs');
    // The first ones at 201.0 / 6 = 33.5 m and 215.4 / 6 = 35.9 m: 4.1 m of trunk, 4.1 and 6.5 m of branches.
    expect(found.status).toBe('note');
    expect(found.found).toBeCloseTo(3 * 40 - 2 * (215.41 / 6) - 201 / 6, 1);
    expect(found.where).toHaveLength(1);
  });

  it('are confirmed within the distance of its own rule', () => {
    const found = of(check(fork, { branchConfirmationM: 35 }), 'branch-confirmation');
    expect(found).toMatchObject({ status: 'not met', required: 35, mend: 'beacon-after-fork' });
    expect(found.found).toBeCloseTo(215.41 / 6, 1);
  });

  it('in the open air soon after a portal need beacons inside too', () => {
    const open = { tunnel: 'no' };
    const network = drawNetwork(
      { 1: [0, 0], 2: [400, 0], 3: [560, 0], 4: [800, 20], 5: [800, -60], 6: [-100, 0] },
      [
        [1, 2],
        { nodes: [6, 1], tags: open },
        { nodes: [2, 3], tags: open },
        { nodes: [3, 4], tags: open },
        { nodes: [3, 5], tags: open },
      ],
    );
    // 201.55 m of sight distance less 160 m in the open: 41.55 m inside, with the beacons at 360 and 400 m.
    const laid = layPlain(network, DEFAULT_RULES);
    const enough = of(checkLaid(network, DEFAULT_RULES, laid), 'decision-sight');
    expect(enough).toMatchObject({ status: 'met', required: 2, found: 2 });
    const three = { ...DEFAULT_RULES, decisionBeacons: 3 };
    expect(of(checkLaid(network, three, laid), 'decision-sight')).toMatchObject({
      status: 'not met',
      required: 3,
      mend: 'beacon-before-fork',
    });
  });
});

describe('beacons opposite each other on both walls', () => {
  const network = drawNetwork(straight, [[1, 2]]);
  const link = network.links[0]?.id as never;
  const right = layPlain(network, { spacingM: 80 });
  // Half a millimetre is rounding.
  const both = right.flatMap((one) => [one, stand(`${one.id}l`, link, one.at.chainageM + 0.0005, 'left')]);

  it('stand in for each other: one that fails leaves no longer gap', () => {
    const rules = { ...DEFAULT_RULES, spacingM: 80, coverageRadiusM: 80 };
    const found = checkLaid(network, rules, both);
    expect(of(found, 'gap').found).toBeCloseTo(80, 1);
    expect(of(found, 'single-failure')).toMatchObject({ status: 'met', required: 160 });
    expect(of(found, 'single-failure').found).toBeCloseTo(80, 1);
    // Both of one place: two intervals.
    expect(of(found, 'pair-failure').found).toBeCloseTo(160, 1);
    expect(checkLaid(network, rules, [...both].reverse())).toEqual(found);
    // On one wall alone.
    const single = checkLaid(network, rules, right);
    expect(of(single, 'single-failure').found).toBeCloseTo(160, 1);
    expect(of(single, 'pair-failure').found).toBeCloseTo(240, 1);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Beacon, BeaconId } from '../placement/beacon.ts';
import type { Check } from '../placement/design.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { check, checkLaid, of } from './check-laid.fixture.ts';
import { layPlain, moveTo } from './lay-plain.fixture.ts';
import { drawNetwork, type Nodes } from './network.fixture.ts';

const straight: Nodes = { 1: [0, 0], 2: [400, 0] };
const forked: Nodes = { 1: [0, 0], 2: [200, 0], 3: [400, 20], 4: [400, -80] };
const fork = drawNetwork(forked, [
  [1, 2],
  [2, 3],
  [2, 4],
]);

describe('the checks of an even design', () => {
  it('are met along one bore', () => {
    const found = check(drawNetwork(straight, [[1, 2]]));
    expect(statuses(found)).toEqual({
      gap: 'met',
      coverage: 'met',
      'single-failure': 'met',
      'pair-failure': 'note',
      'portal-beacon': 'met',
      'decision-sight': 'not applicable',
      'branch-confirmation': 'not applicable',
      'branch-ambiguity': 'not applicable',
      'keep-out': 'not applicable',
      'sister-pairs': 'not applicable',
      'power-limit': 'met',
      'line-accuracy': 'not applicable',
    });
    expect(of(found, 'gap').found).toBeCloseTo(40, 1);
    expect(of(found, 'single-failure')).toMatchObject({ required: 80 });
    expect(of(found, 'single-failure').found).toBeCloseTo(80, 1);
    expect(of(found, 'pair-failure').found).toBeCloseTo(120, 1);
  });

  it('count the beacons before a fork and measure those after it', () => {
    const found = check(fork);
    // 200 m before the fork: beacons at 0, 40, 80, 120, 160 m; the sight distance at 50 km/h is 201.55 m.
    expect(of(found, 'decision-sight')).toMatchObject({ status: 'met', required: 2, found: 5 });
    // The longer branch of 215.4 m has six intervals.
    expect(of(found, 'branch-confirmation').found).toBeCloseTo(Math.hypot(200, 80) / 6, 0);
  });

  it('tell a branch’s beacon that is heard on its sister', () => {
    const near = check(fork, { coverageRadiusM: 38 });
    // 38 m less 33.5 m (201.0 m in six intervals) and less 35.9 m (215.4 m in six): below 5 m, one room.
    expect(of(near, 'branch-ambiguity').status).toBe('met');
    expect(of(near, 'branch-ambiguity').found).toBeCloseTo(38 - Math.hypot(200, 20) / 6, 0);
    const far = check(fork, { coverageRadiusM: 60 });
    expect(of(far, 'branch-ambiguity')).toMatchObject({
      status: 'not met',
      required: 5,
      mend: 'beacon-farther-from-fork',
    });
    expect(of(far, 'branch-ambiguity').where).toHaveLength(2);
  });
});

describe('a check that is not met', () => {
  const network = drawNetwork(straight, [[1, 2]]);
  const link = network.links[0]?.id as never;
  const without = (beacons: readonly Beacon[], ...ids: readonly string[]) =>
    beacons.filter(({ id }) => !ids.includes(id));

  it('names the gap that a missing beacon leaves, and where', () => {
    const laid = layPlain(network, DEFAULT_RULES);
    const gone = laid[5]?.id as BeaconId;
    const found = checkLaid(network, DEFAULT_RULES, without(laid, gone));
    expect(of(found, 'gap')).toMatchObject({ status: 'not met', required: 40, mend: 'reduce-spacing' });
    expect(of(found, 'gap').found).toBeCloseTo(80, 1);
    expect(of(found, 'gap').where).toHaveLength(1);
    expect(of(found, 'gap').where[0]?.chainageM).toBeCloseTo(160, 1);
    // The neighbours of the gap: one more failure leaves three intervals.
    expect(of(found, 'single-failure')).toMatchObject({ status: 'not met', required: 80 });
    expect(of(found, 'single-failure').where.map(({ beaconId }) => beaconId)).toEqual([
      laid[4]?.id,
      laid[6]?.id,
    ]);
  });

  it('names a gap once where both directions drive it', () => {
    const twoWay = drawNetwork(straight, [[1, 2]], { oneway: 'no' });
    const laid = layPlain(twoWay, DEFAULT_RULES);
    const found = of(checkLaid(twoWay, DEFAULT_RULES, without(laid, laid[5]?.id as BeaconId)), 'gap');
    expect(found.status).toBe('not met');
    expect(found.where).toHaveLength(1);
  });

  it('names a portal whose beacon was moved away', () => {
    const laid = moveTo(layPlain(network, DEFAULT_RULES), 'n1', { linkId: link, chainageM: 12 });
    const found = checkLaid(network, DEFAULT_RULES, laid);
    expect(of(found, 'portal-beacon')).toMatchObject({ status: 'not met', required: 5, found: 12 });
    // 5 m of tolerance beyond the offset that the rules name.
    const inside = { ...DEFAULT_RULES, portalOffsetM: 7 };
    expect(of(checkLaid(network, inside, laid), 'portal-beacon')).toMatchObject({
      status: 'met',
      required: 12,
    });
  });

  it('asks for the beacon before a fork that is too few', () => {
    const approach = fork.links.find((one) => one.toNode === 2)?.id;
    const laid = layPlain(fork, DEFAULT_RULES).filter(
      ({ at }) => at.linkId !== approach || at.chainageM < 1 || at.chainageM > 199,
    );
    // The portal is 200 m before the fork, inside the sight distance.
    const found = checkLaid(fork, DEFAULT_RULES, laid);
    expect(of(found, 'decision-sight')).toMatchObject({ status: 'not met', found: 1, required: 2 });
  });

  it('says that no spacing withstands a failure without redundancy', () => {
    const found = check(network, { redundancy: 1 });
    expect(of(found, 'single-failure')).toMatchObject({ status: 'not met', mend: 'raise-redundancy' });
  });

  it('is only a note where the map draws a curve with few vertices', () => {
    const coarse = drawNetwork({ 1: [0, 0], 2: [100, 0], 3: [150, 87], 4: [250, 87] }, [[1, 2, 3, 4]]);
    const found = of(check(coarse), 'line-accuracy');
    expect(found).toMatchObject({ status: 'note', required: 1.75, mend: 'survey-on-site' });
    // Chords of 100 m, turns of 60°: s·θ/8 = 13.1 m.
    expect(found.found).toBeCloseTo(13.1, 0);
    expect(found.where[0]?.chainageM).toBeCloseTo(100, 0);
  });
});

describe('gaps', () => {
  it('run across a node whose beacon was moved into one of its bores', () => {
    const branch = fork.links.find((one) => one.toNode === 3)?.id as never;
    const laid = moveTo(layPlain(fork, DEFAULT_RULES), 'n2', { linkId: branch, chainageM: 25 });
    // The last one before the node stands 40 m from it. Nobody drives from one branch into the other: the gap is from
    // there to the first one of the other branch, 215.4 m in six intervals.
    const found = of(checkLaid(fork, DEFAULT_RULES, laid), 'gap');
    expect(found.found).toBeCloseTo(40 + Math.hypot(200, 80) / 6, 2);
    expect(found.where[0]?.chainageM).toBeCloseTo(160, 2);
    expect(found.mend).toBe('release-beacon');
  });

  it('are met where beacons stand at equal intervals, and one that is taken away leaves what was foretold', () => {
    const points = fc.record({
      approachM: fc.integer({ min: 60, max: 500 }),
      leftM: fc.integer({ min: 60, max: 500 }),
      rightM: fc.integer({ min: 60, max: 500 }),
      isTwoWay: fc.boolean(),
      spacingM: fc.integer({ min: 15, max: 120 }),
    });
    fc.assert(
      fc.property(points, ({ approachM, leftM, rightM, isTwoWay, spacingM }) => {
        const nodes: Nodes = { 1: [-approachM, 0], 2: [0, 0], 3: [leftM, 40], 4: [rightM, -60] };
        const network = drawNetwork(
          nodes,
          [
            [1, 2],
            [2, 3],
            [2, 4],
          ],
          isTwoWay ? { oneway: 'no' } : {},
        );
        const rules = { ...DEFAULT_RULES, spacingM, branchConfirmationM: 120 };
        const beacons = layPlain(network, rules);
        const found = checkLaid(network, rules, beacons);
        for (const rule of ['gap', 'single-failure', 'portal-beacon', 'branch-confirmation'] as const)
          expect(of(found, rule).status).toBe('met');
        expect(checkLaid(network, rules, [...beacons].reverse())).toEqual(found);
        // Each one that is taken away leaves what the single-failure check foretold, at most.
        for (const { id } of beacons) {
          const left = of(checkLaid(network, rules, without(beacons, id)), 'gap').found as number;
          expect(left).toBeLessThanOrEqual((of(found, 'single-failure').found as number) + 1e-6);
        }
      }),
      { seed: 7, numRuns: 25 },
    );
    function without(beacons: readonly Beacon[], gone: string) {
      return beacons.filter(({ id }) => id !== gone);
    }
  });
});

function statuses(checks: readonly Check[]) {
  return Object.fromEntries(checks.map(({ rule, status }) => [rule, status]));
}

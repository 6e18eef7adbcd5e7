import { describe, expect, it } from 'vitest';
import type { Beacon } from '../placement/beacon.ts';
import { buildBoreGraph } from './bore-graph.ts';
import { drawGraph } from './graph.fixture.ts';
import { stand } from './lay-plain.fixture.ts';
import { listAudiblePairs } from './list-audible-pairs.ts';
import { drawNetwork, hear, type Nodes } from './network.fixture.ts';

type Network = ReturnType<typeof drawNetwork>;

const linkTo = ({ links }: Network, from: number, to: number) =>
  links.find((one) => one.fromNode === from && one.toNode === to)?.id as never;
const pairs = (network: Network, beacons: readonly Beacon[], radiusM = 40) =>
  listAudiblePairs(buildBoreGraph(network, beacons), hear(network, beacons, radiusM)).map(
    ({ osmNode, beaconIds, commonM }) => [osmNode, ...beaconIds, Math.round(commonM * 1000) / 1000],
  );

const nodes: Nodes = { 1: [0, 0], 2: [200, 0], 3: [400, 30], 4: [400, -30], 5: [600, 0] };
const fork = drawNetwork(nodes, [
  [1, 2],
  [2, 3],
  [2, 4],
]);
const merge = drawNetwork(nodes, [
  [3, 5],
  [4, 5],
  [5, 1],
]);

describe('beacons of sister branches that are heard at the same places', () => {
  const left = stand('left', linkTo(fork, 2, 3), 25);
  const right = stand('right', linkTo(fork, 2, 4), 30);

  it('are found past a fork, with the metres that both are heard along', () => {
    // Left is heard 15 m into the trunk and the right branch, right 10 m into the trunk and the left branch:
    // 10 m of trunk, 10 m of left branch, 15 m of right branch.
    expect(pairs(fork, [left, right])).toEqual([[2, 'left', 'right', 35]]);
    expect(pairs(fork, [right, left])).toEqual([[2, 'left', 'right', 35]]);
  });

  it('are found before a merge', () => {
    const one = stand('one', linkTo(merge, 3, 5), lengthOf(merge, 3, 5) - 25);
    const two = stand('two', linkTo(merge, 4, 5), lengthOf(merge, 4, 5) - 30);
    expect(pairs(merge, [one, two])).toEqual([[5, 'one', 'two', 35]]);
  });

  it('are none where the radii do not meet, and with each beacon’s own radius may', () => {
    const far = stand('far', linkTo(fork, 2, 4), 60);
    expect(pairs(fork, [left, far])).toEqual([]);
    // 50 + 40 m against 85 m: 5 m of the right branch, at the fork, from 10 m to 15 m.
    expect(pairs(fork, [left, { ...far, radiusM: 50 }])).toEqual([[2, 'far', 'left', 5]]);
  });

  it('are no two on the trunk and a branch, and none at the fork itself', () => {
    const trunk = stand('trunk', linkTo(fork, 1, 2), 190);
    const node = stand('node', linkTo(fork, 2, 3), 0);
    expect(pairs(fork, [trunk, left, node])).toEqual([]);
  });

  it('are found past a second fork that follows closely', () => {
    const twice = drawNetwork({ ...nodes, 6: [210, -2], 7: [400, -80] }, [
      [1, 2],
      [2, 3],
      [2, 6],
      [6, 4],
      [6, 7],
    ]);
    const own = stand('own', linkTo(twice, 2, 3), 20);
    const past = stand('past', linkTo(twice, 6, 4), 20);
    expect(pairs(twice, [own, past]).map(([node, a, b]) => [node, a, b])).toEqual([[2, 'own', 'past']]);
  });

  it('are none through the rock between bores that do not meet', () => {
    const twin = drawNetwork({ 1: [0, 0], 2: [200, 0], 3: [200, 8], 4: [0, 8] }, [
      [1, 2],
      [3, 4],
    ]);
    const beacons = [stand('a', linkTo(twin, 1, 2), 100), stand('b', linkTo(twin, 3, 4), 100)];
    expect(twin.links).toHaveLength(2);
    expect(pairs(twin, beacons)).toEqual([]);
  });

  it('are named once, at the nearer end, where the branches meet again', () => {
    const ring = drawNetwork(nodes, [
      [1, 2],
      [2, 3],
      [2, 4],
      [3, 5],
      [4, 5],
    ]);
    const arms = ring.links.filter(({ fromNode, toNode }) => fromNode === 2 && toNode === 5);
    const beacons = arms.map(({ id }, i) => stand(`b${i}`, id, 10));
    expect(arms).toHaveLength(2);
    // 30 m of each arm past both beacons’ reach across the fork: 30 m of trunk, 30 m of each arm.
    expect(pairs(ring, beacons)).toEqual([[2, 'b0', 'b1', 90]]);
    expect(pairs(ring, beacons, 600).map(([node]) => node)).toEqual([2]);
  });

  it('stay with their own branch where a driver may turn round into the other one', () => {
    // Every turn is legal: from either arm back by the other one.
    const graph = drawGraph([
      { ends: [1, 2], lengthM: 50, twoWay: true },
      { ends: [2, 3], lengthM: 50, at: [10], twoWay: true },
      { ends: [2, 3], lengthM: 50, at: [10], twoWay: true },
    ]);
    // 50 m from each of them: all of both arms, and 40 m of the trunk.
    const all = ['b0', 'b1', 'b2'].map((id) => ({
      linkId: id as never,
      fromM: id === 'b0' ? 10 : 0,
      toM: 50,
    }));
    const coverage = ['b1.0', 'b2.0'].map((id) => ({ beaconId: id as never, radiusM: 50, stretches: all }));
    expect(listAudiblePairs(graph, coverage)).toMatchObject([
      { osmNode: 2, beaconIds: ['b1.0', 'b2.0'], commonM: 140 },
    ]);
  });

  it('leave out what stands past the place where the branches meet again', () => {
    const ways = [
      [1, 2],
      [2, 3],
      [2, 4],
      [3, 5],
      [4, 5],
      [5, 6],
    ];
    for (const oneway of ['yes', 'no']) {
      const ring = drawNetwork({ ...nodes, 3: [220, 20], 4: [220, -30], 5: [240, 0], 6: [400, 0] }, ways, {
        oneway,
      });
      const arms = ring.links.filter(({ fromNode, toNode }) => fromNode === 2 && toNode === 5);
      const beacons = [
        ...arms.map(({ id }, i) => stand(`b${i}`, id, 10)),
        stand('past', linkTo(ring, 5, 6), 20),
        stand('end', linkTo(ring, 5, 6), 0),
      ];
      expect(pairs(ring, beacons, 100).map(([, a, b]) => [a, b])).toEqual([['b0', 'b1']]);
    }
  });
});

function lengthOf({ links }: Network, from: number, to: number): number {
  return links.find((one) => one.fromNode === from && one.toNode === to)?.lengthM ?? Number.NaN;
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { BoreGraph } from './bore-graph.ts';
import { drawGraph } from './graph.fixture.ts';
import { listStops } from './list-stops.ts';
import { listGaps } from './measure-gaps.ts';
import { simulateSurvival } from './simulate-survival.ts';
import { findSurvivalByCases } from './survive-rings.ts';

describe('survival where many bores meet', () => {
  it('is left to trials where the states of the bores would not fit into memory', () => {
    const at = Array.from({ length: 100 }, (_, i) => 10 * i + 5);
    const star = [1, 2, 3, 4, 5, 6].map((end) => ({
      ends: [end, 9] as const,
      lengthM: 1000,
      at,
      twoWay: true,
    }));
    expect(findSurvivalByCases(drawGraph(star, [9]), 0.03, 1000)).toBeUndefined();
    expect(findSurvivalByCases(drawGraph(star.slice(0, 3), [9]), 0.03, 1000)).toBeCloseTo(1, 6);
  });
});

describe('survival round a ring', () => {
  it('is exact where a bore of the ring is longer than the limit', () => {
    // 1 -20- 2, two arms to 3, 3 -20- 4. One arm of 20 m without beacons, one of 60 m with beacons at 20 and 40 m.
    const graph = drawGraph([
      { ends: [1, 2], lengthM: 20, at: [20] },
      { ends: [2, 3], lengthM: 20 },
      { ends: [2, 3], lengthM: 60, at: [20, 40] },
      { ends: [3, 4], lengthM: 20, at: [0] },
    ]);
    // Limit 40, both ends of the arms hold: of the two beacons between one may fail.
    // Without the one before the arms: 20 + 20 m to the first on the long arm, which must work; by the short arm 40 m.
    // Without the one after: the second on the long arm must work. Without both: 60 m by the short arm.
    const [w, f] = [0.9, 0.1];
    const both = w * w * (1 - f * f);
    const one = 2 * (w * f) * w;
    expect(findSurvivalByCases(graph, f, 40)).toBeCloseTo(both + one, 12);
  });

  const rings = fc.record({
    arms: fc.array(
      fc.record({
        lengthM: fc.integer({ min: 45, max: 80 }),
        at: fc.array(fc.integer({ min: 1, max: 99 }), { minLength: 1, maxLength: 3 }),
        isBack: fc.boolean(),
        twoWay: fc.boolean(),
      }),
      { minLength: 2, maxLength: 3 },
    ),
    nodes: fc.subarray([2, 3]),
    inM: fc.integer({ min: 5, max: 40 }),
  });
  const toGraph = ({ arms, nodes, inM }: typeof rings extends fc.Arbitrary<infer T> ? T : never) =>
    drawGraph(
      [
        { ends: [1, 2], lengthM: inM },
        ...arms.map(({ lengthM, at, isBack, twoWay }) => ({
          ends: isBack ? ([3, 2] as const) : ([2, 3] as const),
          lengthM,
          at: [...new Set(at)].sort((a, b) => a - b).map((part) => (part / 100) * lengthM),
          twoWay,
        })),
        { ends: [3, 4], lengthM: 20 },
      ],
      nodes,
    );

  it('is the sum over every set of failures', () => {
    let rest = 0;
    fc.assert(
      fc.property(rings, fc.integer({ min: 30, max: 44 }), (drawn, limitM) => {
        const graph = toGraph(drawn);
        const exact = findSurvivalByCases(graph, 0.2, limitM + 1e-6);
        expect(exact).toBeDefined();
        const sum = sumOverSets(graph, 0.2, limitM + 1e-6);
        expect(exact).toBeCloseTo(sum, 9);
        rest += Number(sum > 0 && sum < 1);
      }),
      { seed: 9, numRuns: 150 },
    );
    // Not only those where all or nothing holds.
    expect(rest).toBeGreaterThan(10);
  });

  it('agrees with seeded trials', () => {
    fc.assert(
      fc.property(rings, fc.integer({ min: 30, max: 44 }), (drawn, limitM) => {
        const graph = toGraph(drawn);
        const exact = findSurvivalByCases(graph, 0.1, limitM + 1e-6) as number;
        // Five standard errors of 10,000 trials.
        expect(Math.abs(simulateSurvival(listStops(graph), 0.1, limitM + 1e-6) - exact)).toBeLessThan(0.025);
      }),
      { seed: 10, numRuns: 30 },
    );
  });
});

/** The plain way: every set of failures, the longest drive between the fixes that are left. */
function sumOverSets(graph: BoreGraph, p: number, limitM: number): number {
  const ids = [
    ...graph.bores.flatMap((bore) => bore.places.map((one) => one.beaconId)),
    ...[...graph.atNode.values()].flat(),
  ];
  let sum = 0;
  for (let set = 0; set < 2 ** ids.length; set += 1) {
    const works = new Set(ids.filter((_, i) => (set & (1 << i)) === 0));
    const left: BoreGraph = {
      ...graph,
      bores: graph.bores.map((bore) => ({
        ...bore,
        places: bore.places.filter((one) => works.has(one.beaconId)),
      })),
      atNode: new Map([...graph.atNode].filter(([, own]) => own.some((id) => works.has(id)))),
    };
    const longestM = Math.max(...listGaps(listStops(left)).map(({ lengthM }) => lengthM));
    if (longestM <= limitM) sum += p ** (ids.length - works.size) * (1 - p) ** works.size;
  }
  return sum;
}

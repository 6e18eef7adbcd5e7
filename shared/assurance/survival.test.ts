import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/assurance.json';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { type BoreGraph, endsOf, listArcs } from './bore-graph.ts';
import { type Drawn, drawGraph } from './graph.fixture.ts';
import { listStops } from './list-stops.ts';
import { simulateSurvival } from './simulate-survival.ts';
import { findSurvival } from './survival.ts';
import { findExactSurvival } from './survive-exact.ts';

/** Beacons 10 m apart, the first and the last 10 m inside. */
const chain = (n: number): BoreGraph =>
  drawGraph([{ ends: [1, 2], lengthM: (n + 1) * 10, at: Array.from({ length: n }, (_, i) => (i + 1) * 10) }]);

describe('survival along a chain (source in data/oracles/assurance.json)', () => {
  it.each(oracle.consecutiveFailures.values)('n $n, k $k, q $q: $survives', ({ n, k, q, survives }) => {
    // Below k failures in a row a gap is at most k intervals.
    expect(Math.abs((findExactSurvival(chain(n), q, k * 10) as number) - survives)).toBeLessThan(1e-9);
  });

  it('takes unequal gaps as they are', () => {
    // 0 -30- a -10- b -20- 60, limit 40: lost only where both fail.
    const graph = drawGraph([{ ends: [1, 2], lengthM: 60, at: [30, 40] }]);
    expect(findExactSurvival(graph, 0.1, 40)).toBeCloseTo(1 - 0.01, 12);
    // Limit 30: without b the last gap is 30, without a the first is 40.
    expect(findExactSurvival(graph, 0.1, 30)).toBeCloseTo(0.9, 12);
    expect(findExactSurvival(graph, 0.1, 29)).toBe(0);
  });
});

describe('survival over forks', () => {
  const fork: readonly Drawn[] = [
    { ends: [1, 2], lengthM: 30, at: [20] },
    { ends: [2, 3], lengthM: 30, at: [10] },
    { ends: [2, 4], lengthM: 30, at: [25] },
  ];
  it('is lost where one branch is', () => {
    // Limit 40. To the left branch: 0, 20, 40, 60. To the right one: 0, 20, 55, 60.
    // Without the first beacon: 40 m to the left one, 55 m to the right one: lost.
    // With it: 40 m to the left portal; the right beacon may fail for 40 m to its portal. Both may fail.
    expect(findExactSurvival(drawGraph(fork), 0.2, 40)).toBeCloseTo(0.8, 12);
    // Limit 35: with the first beacon, neither branch may lose its own.
    expect(findExactSurvival(drawGraph(fork), 0.2, 35)).toBeCloseTo(0.8 ** 3, 12);
  });

  it('counts a beacon at the node for every branch', () => {
    // Limit 30 and one at the node: it must work (else 35 m to the right one); then each branch may lose its
    // own (30 m from the node to its portal) and so may the way to it.
    expect(findExactSurvival(drawGraph(fork, [2]), 0.2, 30)).toBeCloseTo(0.8, 12);
  });

  it('asks nothing of turns that nobody may make', () => {
    // Two bores join: 25 m and 25 m before the node, nobody drives from one into the other.
    const merge: readonly Drawn[] = [
      { ends: [1, 3], lengthM: 50, at: [25] },
      { ends: [2, 3], lengthM: 50, at: [25] },
      { ends: [3, 4], lengthM: 50, at: [5] },
    ];
    expect(findExactSurvival(drawGraph(merge), 0, 45)).toBe(1);
    const twoWay = merge.map((one) => ({ ...one, twoWay: true }));
    expect(findExactSurvival(drawGraph(twoWay), 0, 45)).toBe(0);
  });

  it('is a product over bores that do not meet', () => {
    const apart = drawGraph([
      { ends: [1, 2], lengthM: 60, at: [30] },
      { ends: [3, 4], lengthM: 60, at: [30] },
    ]);
    expect(findExactSurvival(apart, 0.1, 40)).toBeCloseTo(0.81, 12);
  });
});

/** Trees of up to four bores hung on one another, with up to eight beacons. */
const trees = fc
  .array(
    fc.record({
      hung: fc.nat(),
      isOut: fc.boolean(),
      twoWay: fc.boolean(),
      lengthM: fc.integer({ min: 5, max: 60 }),
      at: fc.array(fc.integer({ min: 1, max: 99 }), { maxLength: 2 }),
      hasNode: fc.boolean(),
    }),
    { minLength: 1, maxLength: 4 },
  )
  .map((bores) => {
    const drawn = bores.map(({ hung, isOut, lengthM, at, twoWay }, i): Drawn => {
      const [old, fresh] = [hung % (i + 1), i + 1];
      const places = [...new Set(at)].map((part) => (part / 100) * lengthM).sort((a, b) => a - b);
      return { ends: isOut ? [old, fresh] : [fresh, old], lengthM, at: places, twoWay };
    });
    return drawGraph(
      drawn,
      bores.flatMap(({ hasNode }, i) => (hasNode ? [i + 1] : [])),
    );
  });

describe('survival of any small tree', () => {
  it('is the sum over every set of failures', () => {
    fc.assert(
      fc.property(
        trees,
        fc.integer({ min: 10, max: 120 }),
        fc.double({ min: 0, max: 1, noNaN: true }),
        (graph, limitM, p) => {
          const exact = findExactSurvival(graph, p, limitM + 1e-6);
          expect(exact).toBeCloseTo(sumOverSets(graph, p, limitM + 1e-6), 9);
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });

  it('agrees with seeded trials', () => {
    fc.assert(
      fc.property(trees, fc.integer({ min: 30, max: 90 }), (graph, limitM) => {
        const exact = findExactSurvival(graph, 0.2, limitM + 1e-6) as number;
        const simulated = simulateSurvival(listStops(graph), 0.2, limitM + 1e-6);
        // Five standard errors of 10,000 trials.
        expect(Math.abs(simulated - exact)).toBeLessThan(0.025);
      }),
      { seed: 5, numRuns: 40 },
    );
  });
});

describe('survival round a ring', () => {
  it('is simulated, and says so', () => {
    const ring = drawGraph(
      [
        { ends: [1, 2], lengthM: 40, at: [20] },
        { ends: [2, 3], lengthM: 40, at: [20] },
        { ends: [3, 2], lengthM: 40, at: [20] },
        { ends: [3, 4], lengthM: 40, at: [20] },
      ],
      [2, 3],
    );
    const rules = { ...DEFAULT_RULES, spacingM: 20, failureShare: 0.2 };
    const found = findSurvival(ring, rules);
    expect(found).toMatchObject({ method: 'simulated', limitM: 40, trials: 10_000 });
    expect(Math.abs(found.share - sumOverSets(ring, 0.2, 40 + 1e-6))).toBeLessThan(0.025);
    expect(findSurvival(ring, rules)).toEqual(found);
    // 150 m is more than any drive that goes round once, whatever fails.
    expect(sumOverSets(ring, 0.5, 150)).toBeCloseTo(1, 9);
    expect(simulateSurvival(listStops(ring), 0.5, 150)).toBe(1);
  });
});

/** The plain way: every set of failures, every drive from every place, metre stones in order. */
function sumOverSets(graph: BoreGraph, p: number, limitM: number): number {
  const ids = [
    ...new Set([
      ...graph.bores.flatMap((bore) => bore.places.map((one) => one.beaconId)),
      ...[...graph.atNode.values()].flat(),
    ]),
  ];
  let sum = 0;
  for (let set = 0; set < 2 ** ids.length; set += 1) {
    const working = new Set(ids.filter((_, i) => (set & (1 << i)) === 0));
    const share = p ** (ids.length - working.size) * (1 - p) ** working.size;
    if (share > 0 && longestDriveM(graph, working) <= limitM) sum += share;
  }
  return sum;
}

function longestDriveM(graph: BoreGraph, working: ReadonlySet<string>): number {
  let longestM = 0;
  const drive = (arc: number, sinceM: number, seen: readonly number[]) => {
    const bore = graph.bores[arc >> 1] as BoreGraph['bores'][number];
    const heard = bore.places
      .filter(({ beaconId }) => working.has(beaconId))
      .map(({ chainageM }) => (arc % 2 === 0 ? chainageM : bore.lengthM - chainageM))
      .sort((a, b) => a - b);
    let lastM = -sinceM;
    for (const atM of heard) {
      longestM = Math.max(longestM, atM - lastM);
      lastM = atM;
    }
    longestM = Math.max(longestM, bore.lengthM - lastM);
    const { end } = endsOf(graph, arc);
    const hasFix = graph.open.has(end) || (graph.atNode.get(end) ?? []).some((id) => working.has(id));
    for (const to of graph.open.has(end) ? [] : (graph.next[arc] ?? [])) {
      if (!seen.includes(to)) drive(to, hasFix ? 0 : bore.lengthM - lastM, [...seen, to]);
    }
  };
  for (const arc of listArcs(graph.bores)) drive(arc, 0, [arc]);
  return longestM;
}

import { describe, expect, it } from 'vitest';
import type { Decision } from '../network/network.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import type { BoreGraph } from './bore-graph.ts';
import { drawGraph } from './graph.fixture.ts';
import { listSightCounts } from './measure-sight.ts';

/** At 10 m/s and 10 s: 0.278 · 36 · 10 = 100.08 m. */
const rules: Rules = { ...DEFAULT_RULES, decisionTimeS: 10 };
const SIGHT_M = 100.08;

const decision = (osmNode: number, more: Partial<Decision> = {}): Decision => ({
  osmNode,
  at: [0, 0],
  where: 'underground',
  inside: true,
  branches: [],
  distanceFromFixM: 0,
  speedMps: 10,
  ...more,
});

/** 300 m to a fork at node 2. */
const toFork = (at: readonly number[], nodeBeacons: readonly number[] = []) =>
  drawGraph(
    [
      { ends: [1, 2], lengthM: 300, at },
      { ends: [2, 3], lengthM: 100 },
      { ends: [2, 4], lengthM: 100 },
    ],
    nodeBeacons,
  );
const counts = (graph: BoreGraph, own: Partial<Rules> = {}, afterPortal: readonly Decision[] = []) =>
  listSightCounts(
    graph,
    { underground: afterPortal.length > 0 ? [] : [decision(2)], afterPortal },
    { ...rules, ...own },
  ).map(({ found }) => found);

describe('beacons before a decision point underground', () => {
  it('count inside the sight distance, its edge too, but not the one at the point', () => {
    expect(counts(toFork([100, 210, 250], [2]))).toEqual([2]);
    expect(counts(toFork([300 - SIGHT_M, 250]))).toEqual([2]);
    expect(counts(toFork([300 - SIGHT_M - 0.001, 250]))).toEqual([1]);
  });

  it('follow the decision time', () => {
    expect(counts(toFork([100, 210, 250]), { decisionTimeS: 20 })).toEqual([3]);
  });

  it('count along the way with the fewest of them, an entry portal inside the distance as one', () => {
    const merge = drawGraph(
      [
        { ends: [1, 3], lengthM: 80, at: [30, 60] },
        { ends: [2, 3], lengthM: 200, at: [170] },
        { ends: [3, 4], lengthM: 50, at: [25] },
        { ends: [4, 5], lengthM: 50 },
        { ends: [4, 6], lengthM: 50 },
      ],
      [3],
    );
    // 50.08 m are left at node 3: from 1 one beacon, from 2 the one 30 m before it.
    const found = listSightCounts(merge, { underground: [decision(4)], afterPortal: [] }, rules);
    expect(found.map((one) => one.found)).toEqual([3]);
    // 60 m from the portal to the fork: one beacon between and the portal.
    const short = drawGraph([
      { ends: [1, 2], lengthM: 60, at: [30] },
      { ends: [2, 3], lengthM: 100 },
      { ends: [2, 4], lengthM: 100 },
    ]);
    expect(counts(short)).toEqual([2]);
  });
});

describe('beacons before a decision point after a portal', () => {
  const out = (distanceFromPortalM: number, more: Partial<Decision> = {}) =>
    decision(9, { where: 'after portal', inside: false, portalNode: 2, distanceFromPortalM, ...more });
  const bore = (at: readonly number[]) => drawGraph([{ ends: [1, 2], lengthM: 300, at }], [2]);

  it('count in what is left of the sight distance, the one at the portal with them', () => {
    // 40.08 m are left inside: from 259.92 m on.
    expect(counts(bore([250, 270]), {}, [out(60)])).toEqual([2]);
    expect(counts(bore([250]), {}, [out(60)])).toEqual([1]);
    expect(counts(bore([250]), {}, [out(50)])).toEqual([2]);
  });

  it('are not asked for where the point lies farther away, or where there is no room for them', () => {
    expect(counts(bore([]), {}, [out(SIGHT_M)])).toEqual([]);
    // 14 m hold no second beacon at a closest spacing of 15 m; 16 m do.
    expect(counts(bore([]), {}, [out(SIGHT_M - 14)])).toEqual([]);
    expect(counts(bore([]), {}, [out(SIGHT_M - 16)])).toEqual([1]);
    expect(counts(bore([]), { portalOffsetM: 2 }, [out(SIGHT_M - 16)])).toEqual([]);
  });

  it('are counted before every portal that leads there', () => {
    const twin = drawGraph(
      [
        { ends: [1, 2], lengthM: 300, at: [280] },
        { ends: [3, 4], lengthM: 300, at: [] },
      ],
      [2],
    );
    expect(
      counts(twin, {}, [out(60, { alsoFrom: [{ portalNode: 4, distanceM: 50, reachShare: 1 }] })]),
    ).toEqual([2, 0]);
  });
});

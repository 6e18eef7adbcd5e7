import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { indexWays, makeNodeIndex } from './node-index.ts';

const id = fc.oneof(
  fc.integer({ min: -50, max: 50 }),
  fc.integer({ min: -(2 ** 51), max: 2 ** 51 }),
  // Ids that differ by a multiple of 2^32 only.
  fc.integer({ min: 0, max: 40 }).map((k) => k * 2 ** 32 + 7),
);
const toNodes = (ids: readonly number[]) => ids.map((one) => ({ id: one, lon: 0, lat: 0 }));

describe('makeNodeIndex', () => {
  it('finds what a Map finds, whatever the ids', () => {
    fc.assert(
      fc.property(fc.array(id, { maxLength: 300 }), fc.array(id), (ids, others) => {
        const truth = new Map(ids.map((one, place) => [one, place]));
        const index = makeNodeIndex(toNodes(ids));
        for (const one of [...ids, ...others]) expect(index.find(one)).toBe(truth.get(one) ?? -1);
      }),
      { seed: 21, numRuns: 300 },
    );
  });
});

describe('indexWays', () => {
  it('finds every way of a node once, in their order', () => {
    const nodes = fc.array(fc.integer({ min: 0, max: 12 }), { maxLength: 8 });
    fc.assert(
      fc.property(fc.array(nodes, { maxLength: 10 }), (lists) => {
        // Node 12 is not in the extract.
        const ids = Array.from({ length: 12 }, (_, node) => node);
        const ways = lists.map((list, place) => ({ id: place, nodes: list, tags: {} }));
        const index = makeNodeIndex(toNodes(ids));
        const waysAt = indexWays(index, ids.length, ways);
        for (const node of ids) {
          const found: number[] = [];
          waysAt.visit(index.find(node), (way) => found.push(way));
          expect(found).toEqual(lists.flatMap((list, place) => (list.includes(node) ? [place] : [])));
        }
      }),
      { seed: 22, numRuns: 300 },
    );
  });
});

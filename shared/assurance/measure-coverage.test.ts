import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LinkId } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import { stand } from './lay-plain.fixture.ts';
import { listDepths, listThinnest } from './measure-coverage.ts';
import { drawNetwork, hear, type Nodes } from './network.fixture.ts';

const a = 'a' as LinkId;
const bores = [{ id: a, lengthM: 100 }];
const heardAt = (...stretches: readonly (readonly [number, number])[]) =>
  stretches.map(([fromM, toM], i) => ({
    beaconId: `b${i}`,
    radiusM: 40,
    stretches: [{ linkId: a, fromM, toM }],
  })) as unknown as Design['coverage'];

describe('how many beacons are heard', () => {
  it('is a piece for each change', () => {
    expect(listDepths(bores, heardAt([0, 60], [40, 100])).get(a)).toEqual([
      { fromM: 0, toM: 40, depth: 1 },
      { fromM: 40, toM: 60, depth: 2 },
      { fromM: 60, toM: 100, depth: 1 },
    ]);
    expect(listDepths(bores, []).get(a)).toEqual([{ fromM: 0, toM: 100, depth: 0 }]);
  });

  it('does not see a gap that is only rounding', () => {
    const pieces = listDepths(bores, heardAt([0, 50], [50.000001, 100])).get(a) ?? [];
    expect(pieces.map(({ depth }) => depth)).toEqual([1, 1]);
  });

  it('is told once for each stretch with too few, in the middle of the longest piece with the fewest', () => {
    // Depth: 1 to 10 m, 0 to 30 m, 1 to 40 m, 2 to 80 m, 1 to the end.
    const coverage = heardAt([0, 10], [30, 100], [40, 80]);
    expect(listThinnest(bores, coverage, 2)).toEqual([
      { found: 0, at: { linkId: a, chainageM: 20 } },
      { found: 1, at: { linkId: a, chainageM: 90 } },
    ]);
    expect(listThinnest(bores, coverage, 1)).toEqual([{ found: 0, at: { linkId: a, chainageM: 20 } }]);
    // Enough everywhere: still the thinnest place of the bore.
    expect(listThinnest(bores, coverage, 0)).toEqual([{ found: 0, at: { linkId: a, chainageM: 20 } }]);
  });
});

const nodes: Nodes = { 1: [0, 0], 2: [90, 0], 3: [160, 20], 4: [170, -50], 5: [240, 0] };
const places = fc.record({
  ways: fc.constantFrom(
    [[1, 2]],
    [
      [1, 2],
      [2, 3],
      [2, 4],
    ],
    // A ring of two branches that meet again.
    [
      [1, 2],
      [2, 3],
      [2, 4],
      [3, 5],
      [4, 5],
    ],
  ),
  stands: fc.array(fc.record({ link: fc.nat(), share: fc.double({ min: 0, max: 1, noNaN: true }) }), {
    maxLength: 8,
  }),
  radiusM: fc.integer({ min: 5, max: 150 }),
});

describe('how many beacons are heard in any network', () => {
  it('is what is counted place by place', () => {
    fc.assert(
      fc.property(places, ({ ways, stands, radiusM }) => {
        const network = drawNetwork(nodes, ways);
        const { links } = network;
        const beacons = stands.map(({ link, share }, i) => {
          const { id, lengthM } = links[link % links.length] as (typeof links)[number];
          return stand(`b${i}`, id, share * lengthM);
        });
        const depths = listDepths(links, hear(network, beacons, radiusM));
        for (const { id, lengthM } of links) {
          for (let chainageM = 0.37; chainageM < lengthM; chainageM += 3.1) {
            const away = beacons.map(({ at }) => distanceM(links, at, { linkId: id, chainageM }));
            // At the very edge of what is heard rounding decides.
            if (away.some((m) => Math.abs(m - radiusM) < 0.01)) continue;
            const piece = depths.get(id)?.find(({ fromM, toM }) => fromM <= chainageM && chainageM <= toM);
            expect(piece?.depth).toBe(away.filter((m) => m < radiusM).length);
          }
        }
      }),
      { seed: 11, numRuns: 60 },
    );
  });
});

type Links = ReturnType<typeof drawNetwork>['links'];
type Place = { readonly linkId: LinkId; readonly chainageM: number };

/** The plain way: every way from node to node that passes none twice, the shortest one taken. */
function distanceM(links: Links, from: Place, to: Place): number {
  const link = (id: LinkId) => links.find((one) => one.id === id) as Links[number];
  const leave = (node: number, { linkId, chainageM }: Place): number => {
    const { fromNode, toNode, lengthM } = link(linkId);
    return Math.min(
      node === fromNode ? chainageM : Number.POSITIVE_INFINITY,
      node === toNode ? lengthM - chainageM : Number.POSITIVE_INFINITY,
    );
  };
  const walk = (node: number, atM: number, seen: readonly number[]): number =>
    Math.min(
      atM + leave(node, to),
      ...links
        .flatMap(({ fromNode, toNode, lengthM }) => [
          ...(fromNode === node ? [{ far: toNode, lengthM }] : []),
          ...(toNode === node ? [{ far: fromNode, lengthM }] : []),
        ])
        .filter(({ far }) => !seen.includes(far))
        .map(({ far, lengthM }) => walk(far, atM + lengthM, [...seen, far])),
    );
  const { fromNode, toNode } = link(from.linkId);
  const direct =
    from.linkId === to.linkId ? Math.abs(from.chainageM - to.chainageM) : Number.POSITIVE_INFINITY;
  return Math.min(direct, ...[fromNode, toNode].map((node) => walk(node, leave(node, from), [node])));
}

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ELEMENTS, TOWN } from '../../tests/osm-fixtures/tunnel-town.ts';
import { RefusalError } from '../outcome/refusal.ts';
import { type Collector, DEFAULT_LIMITS, makeCollector } from './make-collector.ts';

const SOURCE = { format: 'osm-xml' } as const;

const FEEDS: readonly ((collector: Collector) => void)[] = [
  ...ELEMENTS.nodes.map((node) => (to: Collector) => to.node(node.id, node.lon, node.lat, node.tags)),
  ...ELEMENTS.ways.map((way) => (to: Collector) => to.way(way.id, way.nodes, way.tags)),
  ...ELEMENTS.relations.map(
    (relation) => (to: Collector) => to.relation(relation.id, relation.members, relation.tags),
  ),
];

function refusalOf(work: () => unknown): unknown {
  try {
    work();
  } catch (error) {
    if (error instanceof RefusalError) return error.refusal;
    throw error;
  }
  return undefined;
}

describe('makeCollector', () => {
  it('gives the same extract whatever the order of the elements', () => {
    const order = fc.shuffledSubarray([...FEEDS], { minLength: FEEDS.length });
    fc.assert(
      fc.property(order, (feeds) => {
        const collector = makeCollector();
        for (const feed of feeds) feed(collector);
        expect(collector.finish(TOWN.source, TOWN.bbox)).toEqual(TOWN);
      }),
      { seed: 1, numRuns: 100 },
    );
  });

  it('lets the last of several elements with one id win, kept or not', () => {
    const collector = makeCollector();
    collector.node(1, 1, 1, { place: 'town' });
    collector.node(1, 2, 2);
    collector.node(2, 3, 3);
    collector.way(10, [1, 2], { highway: 'service' });
    collector.way(10, [2, 1], { highway: 'primary' });
    collector.way(11, [1, 2], { highway: 'primary' });
    collector.way(11, [1, 2], { barrier: 'wall' });
    collector.relation(20, [], { type: 'tunnel' });
    collector.relation(20, [], { type: 'route' });
    expect(collector.finish(SOURCE)).toEqual({
      source: SOURCE,
      nodes: [
        { id: 1, lon: 2, lat: 2 },
        { id: 2, lon: 3, lat: 3 },
      ],
      ways: [{ id: 10, nodes: [2, 1], tags: { highway: 'primary' } }],
      relations: [],
    });
  });

  it('keeps the last outline of a lake, with the members’ ids exact', () => {
    const collector = makeCollector();
    const far = [2 ** 51, -(2 ** 51), 2 ** 40 + 1, 0, 2 ** 51];
    collector.way(7, [1, 2, 3], { source: 'survey' });
    collector.way(8, [4, 5], {});
    collector.way(7, far, { source: 'survey' });
    collector.relation(1, [{ type: 'way', ref: 7, role: 'outer' }], {
      type: 'multipolygon',
      natural: 'water',
    });
    expect(collector.finish(SOURCE).ways).toEqual([{ id: 7, nodes: far, tags: {} }]);
  });

  it('lets a mentioned position leave the tags of its node alone', () => {
    const collector = makeCollector();
    collector.node(1, 1, 1, { emergency: 'phone' });
    collector.position(1, 1, 1);
    expect(collector.finish(SOURCE).nodes).toEqual([{ id: 1, lon: 1, lat: 1, tags: { emergency: 'phone' } }]);
  });

  it('copies what the caller may use again', () => {
    const collector = makeCollector();
    const nodes = [1, 2];
    const tags: Record<string, string> = { highway: 'primary' };
    collector.way(1, nodes, tags);
    nodes.length = 0;
    tags.highway = 'path';
    expect(collector.finish(SOURCE).ways).toEqual([{ id: 1, nodes: [1, 2], tags: { highway: 'primary' } }]);
  });

  it('keeps tags with the names of object members apart from the objects', () => {
    const collector = makeCollector();
    const tags = JSON.parse('{"highway":"primary","__proto__":"x","constructor":"y","toString":"z"}');
    collector.way(1, [], tags);
    const [way] = collector.finish(SOURCE).ways;
    expect(Object.entries(way?.tags ?? {})).toEqual([
      ['highway', 'primary'],
      ['constructor', 'y'],
      ['toString', 'z'],
    ]);
    expect(Object.getPrototypeOf(way?.tags)).toBe(Object.prototype);
  });

  it.each([
    [Number.NaN, 46],
    [0, Number.NaN],
    [180.0000001, 0],
    [-181, 0],
    [0, 90.1],
    [0, -91],
    [2_600_000, 1_200_000],
    [Number.POSITIVE_INFINITY, 0],
  ])('refuses the position %d, %d and names the node', (lon, lat) => {
    const collector = makeCollector();
    expect(refusalOf(() => collector.node(17, lon, lat))).toEqual({
      code: 'input-coordinates',
      context: { where: `node/17: ${lat}, ${lon}` },
    });
    expect(refusalOf(() => collector.position(17, lon, lat))).toMatchObject({ code: 'input-coordinates' });
  });

  it('accepts the corners of the globe', () => {
    const collector = makeCollector();
    collector.node(1, -180, -90, { place: 'sea' });
    collector.node(2, 180, 90, { place: 'sea' });
    expect(collector.finish(SOURCE).nodes.map(({ lon, lat }) => [lon, lat])).toEqual([
      [-180, -90],
      [180, 90],
    ]);
  });

  it.each([
    [(to: Collector) => to.node(1.5, 0, 0), 'node id 1.5'],
    [(to: Collector) => to.way(3, [1, Number.NaN]), 'way/3, node id NaN'],
    [(to: Collector) => to.way(2 ** 53, []), 'way id 9007199254740992'],
    [
      (to: Collector) => to.relation(4, [{ type: 'way', ref: 0.5, role: '' }], { type: 'tunnel' }),
      'relation/4, way id 0.5',
    ],
  ])('refuses an id that is no whole number (%#)', (feed, where) => {
    expect(refusalOf(() => feed(makeCollector()))).toEqual({ code: 'input-damaged', context: { where } });
  });

  it('refuses more than its limits, each with its number', () => {
    const nodes = makeCollector({ ...DEFAULT_LIMITS, maxNodes: 2 });
    nodes.node(1, 0, 0);
    nodes.node(2, 0, 0);
    expect(refusalOf(() => nodes.node(3, 0, 0))).toEqual({
      code: 'input-too-large',
      context: { limit: '2 nodes' },
    });

    const kept = makeCollector({ ...DEFAULT_LIMITS, maxKeptNodes: 2 });
    kept.way(1, [1, 2, 3], { highway: 'primary' });
    expect(refusalOf(() => kept.finish(SOURCE))).toMatchObject({ code: 'input-too-large' });

    const bytes = () => makeCollector({ ...DEFAULT_LIMITS, maxBytes: 2 ** 20 });
    const many = Array.from({ length: 20_000 }, (_, index) => index * 1_000_003);
    const fill = (feed: (to: Collector, id: number) => void) => {
      const to = bytes();
      for (let id = 0; id < 1000; id += 1) feed(to, id);
    };
    const limit = { code: 'input-too-large', context: { limit: '1 MB of roads and areas' } };
    expect(refusalOf(() => fill((to, id) => to.way(id, many, { highway: 'primary' })))).toEqual(limit);
    expect(refusalOf(() => fill((to, id) => to.way(id, many)))).toEqual(limit);
    expect(refusalOf(() => fill((to, id) => to.node(id, 0, 0, { place: 'x'.repeat(5000) })))).toEqual(limit);
    const members = many.map((ref) => ({ type: 'way' as const, ref, role: '' }));
    expect(refusalOf(() => fill((to, id) => to.relation(id, members, { type: 'tunnel' })))).toEqual(limit);
  });

  it('rounds positions to the 7 decimals that OpenStreetMap stores', () => {
    const collector = makeCollector();
    collector.node(1, 7.12345678, -0.00000004, { place: 'x' });
    expect(collector.finish(SOURCE).nodes).toEqual([{ id: 1, lon: 7.1234568, lat: 0, tags: { place: 'x' } }]);
  });
});

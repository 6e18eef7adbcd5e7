import { describe, expect, it } from 'vitest';
import type { Area } from '../../shared/wire/survey.ts';
import { type Element, runQuery } from '../../tests/contracts/overpass/ql-model.ts';
import { buildOverpassQuery } from './build-overpass-query.ts';

const ORIGIN = { lon: -20, lat: 46 };

/** A node at metres east and north of a point in the Atlantic. */
function node(id: number, eastM: number, northM = 0, tags?: Element['tags']): Element {
  const lat = ORIGIN.lat + northM / 111_195;
  const lon = ORIGIN.lon + eastM / (111_195 * Math.cos((ORIGIN.lat * Math.PI) / 180));
  return { type: 'node', id, lat, lon, ...(tags && { tags }) };
}
function way(id: number, nodes: readonly number[], tags: Element['tags'] = {}): Element {
  return { type: 'way', id, nodes, tags };
}
function relation(id: number, wayId: number, tags: Element['tags']): Element {
  return { type: 'relation', id, members: [{ type: 'way', ref: wayId, role: 'from' }], tags: tags ?? {} };
}

const bore = { highway: 'primary', tunnel: 'yes' };
const street = { highway: 'residential' };

/** A bore of 3 km from x = 0 to the east, cut by the area's edge at x = 2,000; the west portal at x = 0. */
const BORE = [
  node(1, 0),
  node(2, 1500),
  node(3, 2500),
  node(4, 3000),
  way(1, [1, 2], bore),
  way(2, [2, 3], bore),
  way(3, [3, 4], bore),
];
const APPROACH = [
  node(5, 3100),
  way(10, [4, 5], street),
  node(6, -100, 0, { highway: 'motorway_junction', ref: '7' }),
  node(7, -450),
  node(8, -900),
  node(9, -1300),
  way(11, [1, 6], street),
  way(12, [6, 7], street),
  way(13, [7, 8], street),
  way(14, [8, 9], street),
  node(60, -100, 30),
  way(15, [6, 60], { highway: 'service', service: 'driveway' }),
  way(16, [6, 60], { highway: 'footway' }),
];
const OTHER_ROOFS = [
  node(61, -1000, 900),
  node(62, -1000, 950),
  way(20, [61, 62], { highway: 'footway', tunnel: 'yes' }),
  way(21, [61, 62], { waterway: 'stream', tunnel: 'culvert' }),
  way(22, [61, 62], { highway: 'service', tunnel: 'building_passage' }),
  way(23, [61, 62], street),
  way(25, [61, 62], { ...street, tunnel: 'no' }),
  node(63, -1000, -900),
  node(64, -1000, -950),
  way(24, [63, 64], { highway: 'service', covered: 'yes' }),
];
const ABOVE = [node(65, 1200, -700), node(66, 1200, 700), way(26, [65, 66], street)];
const FEATURES = [
  node(30, 800, 10, { emergency: 'phone' }),
  node(31, 800, 200, { emergency: 'phone' }),
  node(33, 900, -12, { entrance: 'emergency' }),
  node(67, 950, 8),
  node(68, 990, 8),
  way(32, [67, 68], { highway: 'path', emergency: 'yes' }),
  way(34, [67, 68], { highway: 'emergency_bay' }),
  node(35, 2600, 5, { highway: 'emergency_bay' }),
  node(36, 2700, 5, { highway: 'emergency_access_point' }),
];
const RELATIONS = [
  relation(40, 11, { type: 'restriction', restriction: 'no_left_turn' }),
  relation(41, 1, { type: 'route', route: 'road' }),
  relation(42, 1, { type: 'tunnel', name: 'Harbour' }),
];
const CONTEXT = [
  node(70, -1500, 700, { highway: 'crossing' }),
  node(71, -1500, 800),
  way(50, [70, 71], { highway: 'secondary' }),
  way(51, [70, 71], { natural: 'coastline' }),
  way(54, [70, 71], { waterway: 'river' }),
  node(72, -1600, 700),
  way(53, [71, 72]),
  relation(52, 53, { type: 'multipolygon', natural: 'water' }),
  node(55, -1400, 0, { place: 'suburb', name: 'Mole End' }),
  node(56, -1400, 5, { place: 'locality' }),
  node(73, 9000),
  node(74, 9100),
  way(57, [73, 74], { highway: 'secondary' }),
];
const DATA = [...BORE, ...APPROACH, ...OTHER_ROOFS, ...ABOVE, ...FEATURES, ...RELATIONS, ...CONTEXT];

const corner = (eastM: number, northM: number): [number, number] => {
  const { lon = 0, lat = 0 } = node(0, eastM, northM);
  return [lon, lat];
};
const [west, south] = corner(-2000, -1000);
const [east, north] = corner(2000, 1000);
const BOX: Area = { bbox: [west, south, east, north] };
const RING: Area = {
  ring: [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ],
};

function idsOf(elements: readonly Element[], type: Element['type']): number[] {
  return elements
    .filter((element) => element.type === type)
    .map(({ id }) => id)
    .sort((a, b) => a - b);
}

describe.each([
  ['a box', BOX],
  ['a ring', RING],
])('the question for %s', (_, area) => {
  const [full, bare] = runQuery(buildOverpassQuery(area, 500), DATA);
  const all = [...(full?.elements ?? []), ...(bare?.elements ?? [])];

  it('finds bores, roads near their mouths, and what the report and the map need; nothing else', () => {
    expect(idsOf(all, 'way')).toEqual([1, 2, 3, 10, 11, 12, 13, 15, 20, 22, 24, 34, 50, 51, 53, 54]);
  });

  it('finds turn restrictions and tunnel relations of the roads, and the outlines of water', () => {
    expect(idsOf(all, 'relation')).toEqual([40, 42, 52]);
  });

  it('finds phones, exits, lay-bys and places, and every node of every way', () => {
    const ways = all.flatMap((element) => element.nodes ?? []);
    const features = [30, 33, 35, 36, 55];
    expect(idsOf(all, 'node')).toEqual([...new Set([...ways, ...features])].sort((a, b) => a - b));
  });

  it('gives road nodes their tags, and nothing twice', () => {
    expect(full?.mode).toBe('body');
    expect(full?.elements.find(({ type, id }) => type === 'node' && id === 6)?.tags?.ref).toBe('7');
    expect(bare?.mode).toBe('skel');
    expect(idsOf(bare?.elements ?? [], 'node')).toEqual([70, 71, 72]);
    expect(new Set(all).size).toBe(all.length);
  });
});

describe('the approach distance', () => {
  const waysWithin = (approachM: number) =>
    idsOf(
      runQuery(buildOverpassQuery(BOX, approachM), DATA).flatMap(({ elements }) => elements),
      'way',
    );

  it('decides how far the roads are taken; those that touch a bore are always there', () => {
    expect(waysWithin(0)).not.toContain(12);
    expect(waysWithin(0)).toEqual(expect.arrayContaining([10, 11]));
    expect(waysWithin(120)).toContain(12);
    expect(waysWithin(120)).not.toContain(13);
    expect(waysWithin(1000)).toEqual(expect.arrayContaining([12, 13, 14]));
  });
});

describe('the text of the question', () => {
  const query = buildOverpassQuery({ bbox: [7.4053, 43.7232, 7.4448, 43.7544] }, 500);

  it('names south, west, north, east, with 7 decimals', () => {
    expect(query).toContain('(43.7232000,7.4053000,43.7544000,7.4448000)');
    expect(
      buildOverpassQuery(
        {
          ring: [
            [7, 43],
            [7.1, 43],
            [7, 43.1],
            [7, 43],
          ],
        },
        500,
      ),
    ).toContain(
      '(poly:"43.0000000 7.0000000 43.0000000 7.1000000 43.1000000 7.0000000 43.0000000 7.0000000")',
    );
  });

  it('asks for JSON within limits, and for nodes with their ids', () => {
    expect(query).toMatch(/^\[out:json\]\[timeout:120\]\[maxsize:536870912\];\n/);
    expect(query).not.toMatch(/\b(geom|center|ids)\b/);
  });

  it('holds no tiny or huge number in a notation that servers do not read', () => {
    const tiny = buildOverpassQuery({ bbox: [-1e-7, -1e-9, 1e-7, 1e-7] }, 0.1);
    expect(tiny).not.toMatch(/\de[-+]?\d/);
  });

  it.each<[string, unknown, unknown]>([
    ['text for a side', { bbox: ['0);out;(', 43, 8, 44] }, 500],
    [
      'text for a corner',
      {
        ring: [
          [7, '43") ; out; ("'],
          [8, 43],
          [8, 44],
          [7, 43],
        ],
      },
      500,
    ],
    ['NaN', { bbox: [Number.NaN, 43, 8, 44] }, 500],
    ['an endless side', { bbox: [7, 43, Number.POSITIVE_INFINITY, 44] }, 500],
    ['text for the distance', { bbox: [7, 43, 8, 44] }, '500);out;('],
    ['no distance', { bbox: [7, 43, 8, 44] }, Number.NaN],
    ['a distance below 0', { bbox: [7, 43, 8, 44] }, -1],
    ['a distance without measure', { bbox: [7, 43, 8, 44] }, 1e6],
  ])('is not written with %s', (_, area, approachM) => {
    expect(() => buildOverpassQuery(area as Area, approachM as number)).toThrow(RangeError);
  });
});

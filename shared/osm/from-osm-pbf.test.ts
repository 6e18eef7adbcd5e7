import fc from 'fast-check';
import { unzlibSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { decode, outcome } from '../../tests/osm-fixtures/decode.ts';
import {
  blob,
  bytes,
  concat,
  deltas,
  denseNodes,
  header,
  makeTexts,
  number,
  packed,
  raw,
  relation,
  text,
  varint,
  way,
  zigzag,
  zlib,
} from '../../tests/osm-fixtures/encode-pbf.ts';
import { ELEMENTS, TOWN } from '../../tests/osm-fixtures/tunnel-town.ts';
import { fromOsmPbf } from './from-osm-pbf.ts';

const read = (input: Uint8Array, size?: number) =>
  decode(
    fromOsmPbf((data) => unzlibSync(data)),
    input,
    size,
  );
const data = (...fields: number[][]) => concat(header(), blob('OSMData', fields.flat()));

const BOX = bytes(1, [
  ...number(1, zigzag(-20_100_000_000)),
  ...number(2, zigzag(-20_000_000_000)),
  ...number(3, zigzag(46_100_000_000)),
  ...number(4, zigzag(46_000_000_000)),
]);
const TOWN_HEADER = header(BOX, text(16, 'invented'), number(32, varint(1_767_323_045)));
const EXPECTED = {
  ok: true,
  value: { ...TOWN, source: { format: 'osm-pbf', generator: 'invented', timestamp: '2026-01-02T03:04:05Z' } },
};

/** The town with one group for each kind. */
function encodeTown(how = zlib): Uint8Array {
  const texts = makeTexts();
  const groups = [
    bytes(2, denseNodes(ELEMENTS.nodes, texts)),
    bytes(
      2,
      ELEMENTS.ways.flatMap(({ id, nodes, tags }) => way(id, nodes, tags, texts)),
    ),
    bytes(
      2,
      ELEMENTS.relations.flatMap(({ id, members, tags }) => relation(id, members, tags, texts)),
    ),
  ];
  return concat(TOWN_HEADER, blob('OSMData', [...texts.field(), ...groups.flat()], how));
}

describe('fromOsmPbf', () => {
  it('reads a file, in pieces of any size', () => {
    for (const size of [1, 2, 3, 7, 100, 100_000]) expect(read(encodeTown(), size)).toEqual(EXPECTED);
  });

  it('reads blobs that are not compressed', () => {
    expect(read(encodeTown(raw))).toEqual(EXPECTED);
    expect(read(encodeTown((content) => [...number(2, varint(content.length)), ...raw(content)]))).toEqual(
      EXPECTED,
    );
  });

  it('reads one group of mixed kinds, backwards, before the texts, with fields nobody knows', () => {
    const texts = makeTexts();
    const unknown = [...number(90, varint(7)), ...bytes(91, [1, 2, 3]), ...varint(92 * 8 + 5), 1, 2, 3, 4];
    const group = bytes(2, [
      ...ELEMENTS.relations
        .toReversed()
        .flatMap(({ id, members, tags }) => relation(id, members, tags, texts)),
      ...unknown,
      ...ELEMENTS.ways.toReversed().flatMap(({ id, nodes, tags }) => way(id, nodes, tags, texts)),
      ...denseNodes(ELEMENTS.nodes.toReversed(), texts),
    ]);
    const block = [...group, ...unknown, ...varint(93 * 8 + 1), 1, 2, 3, 4, 5, 6, 7, 8, ...texts.field()];
    expect(read(concat(TOWN_HEADER, blob('OSMData', block)))).toEqual(EXPECTED);
  });

  it('reads nodes by themselves, values before keys, numbers one by one', () => {
    const texts = makeTexts();
    const nodes = ELEMENTS.nodes.flatMap(({ id, lon, lat, tags = {} }) =>
      bytes(1, [
        ...Object.values(tags).flatMap((value) => number(3, varint(texts.index(value)))),
        ...Object.keys(tags).flatMap((key) => number(2, varint(texts.index(key)))),
        ...number(9, zigzag(Math.round(lon * 1e7))),
        ...number(8, zigzag(Math.round(lat * 1e7))),
        ...number(1, zigzag(id)),
      ]),
    );
    const ways = ELEMENTS.ways.flatMap(({ id, nodes: refs, tags }) =>
      bytes(3, [
        ...refs.flatMap((ref, index) => number(8, zigzag(ref - (refs[index - 1] ?? 0)))),
        ...packed(3, Object.values(tags).map(texts.index)),
        ...packed(2, Object.keys(tags).map(texts.index)),
        ...number(1, varint(id)),
      ]),
    );
    const relations = ELEMENTS.relations.flatMap(({ id, members, tags }) =>
      relation(id, members, tags, texts),
    );
    const groups = bytes(2, [...nodes, ...ways, ...relations]);
    expect(read(concat(TOWN_HEADER, blob('OSMData', [...texts.field(), ...groups])))).toEqual(EXPECTED);
  });

  it('strings a packed field together that was written in several runs', () => {
    const node = (id: number) => number(8, zigzag(id));
    const refs = [
      ...bytes(8, [...zigzag(5), ...zigzag(1)]),
      ...node(1),
      ...bytes(8, []),
      ...bytes(8, zigzag(-3)),
      ...node(300),
    ];
    const texts = makeTexts();
    const tags = [...packed(2, [texts.index('highway')]), ...packed(3, [texts.index('primary')])];
    const group = bytes(2, bytes(3, [...number(1, varint(1)), ...refs, ...tags]));
    expect(read(data([...texts.field(), ...group]))).toMatchObject({
      ok: true,
      value: { ways: [{ id: 1, nodes: [5, 6, 7, 4, 304] }] },
    });
  });

  it('applies granularity and offsets, also where they follow the groups', () => {
    const texts = makeTexts();
    const pairs = packed(10, [texts.index('place'), texts.index('town'), 0]);
    const columns = [...deltas(1, [1]), ...deltas(8, [3_000]), ...deltas(9, [-2_000]), ...pairs];
    const block = [
      ...bytes(2, bytes(2, columns)),
      ...number(20, varint(-20_000_000_000)),
      ...number(19, varint(46_000_000_000)),
      ...number(17, varint(1000)),
      ...texts.field(),
    ];
    expect(read(data(block))).toMatchObject({
      ok: true,
      value: { nodes: [{ id: 1, lat: 46.003, lon: -20.002 }] },
    });
  });

  it('takes the positions that a way carries along', () => {
    const texts = makeTexts();
    const tags = [...packed(2, [texts.index('highway')]), ...packed(3, [texts.index('primary')])];
    const places = [...deltas(9, [460_000_000, 460_000_100]), ...deltas(10, [-200_000_000, -200_000_300])];
    const group = bytes(2, bytes(3, [...number(1, varint(1)), ...deltas(8, [5, 6]), ...places, ...tags]));
    expect(read(data([...texts.field(), ...group]))).toMatchObject({
      ok: true,
      value: {
        nodes: [
          { id: 5, lat: 46, lon: -20 },
          { id: 6, lat: 46.00001, lon: -20.00003 },
        ],
      },
    });
  });

  it('passes over blobs of other kinds, empty blocks and repeated headers', () => {
    const other = blob('Index', [1, 2, 3], (content) => bytes(7, content));
    const parts = [TOWN_HEADER, other, blob('OSMData', []), blob('OSMData', [], raw), encodeTown()];
    expect(read(concat(...parts))).toEqual(EXPECTED);
  });

  it('finds every cut that is not between two blobs', () => {
    const file = encodeTown();
    for (let length = 1; length < file.length; length += 1) {
      if (length === TOWN_HEADER.length) continue;
      const blobs = length < TOWN_HEADER.length ? 1 : 2;
      expect(outcome(read(file.subarray(0, length)))).toBe(`input-truncated: in blob ${blobs}`);
    }
  });

  const size = (bytesLong: number) => {
    const four = new Uint8Array(4);
    new DataView(four.buffer).setUint32(0, bytesLong);
    return four;
  };
  const claim = (blobSize: number) => {
    const head = [...text(1, 'OSMData'), ...number(3, varint(blobSize))];
    return concat(header(), size(head.length), Uint8Array.from(head));
  };
  const how = (write: (content: number[]) => number[]) => concat(header(), blob('OSMData', [0x22, 0], write));
  const group = (content: number[]) => data(bytes(2, content));
  const pair = (key: number, value: number) => [...packed(2, [key]), ...packed(3, [value])];

  it.each([
    [
      'a required feature',
      header(text(4, 'HistoricalInformation')),
      /blob 1: the file needs the feature HistoricalInformation, which is not read$/,
    ],
    ['data before the header', blob('OSMData', []), 'blob 1: data before the header'],
    ['a header of no bytes', size(0), 'blob 1: a header of 0 bytes'],
    ['a header above 64 KiB', size(65_536), 'blob 1: a header of 65536 bytes'],
    ['a blob above 32 MiB', claim(32 * 2 ** 20 + 1), 'blob 2: 33554433 bytes, more than the format allows'],
    ['a blob below nothing', claim(-1), 'blob 2: a header without type or size'],
    [
      'a header without a type',
      concat(size(2), Uint8Array.from(number(3, [5]))),
      'blob 1: a header without type or size',
    ],
    ['lzma', how((content) => bytes(4, content)), 'blob 2: lzma compression, which is not read: zlib is'],
    ['bzip2', how((content) => bytes(5, content)), 'blob 2: bzip2 compression, which is not read: zlib is'],
    ['lz4', how((content) => bytes(6, content)), 'blob 2: lz4 compression, which is not read: zlib is'],
    ['zstd', how((content) => bytes(7, content)), 'blob 2: zstd compression, which is not read: zlib is'],
    ['a blob of nothing', how(() => []), 'blob 2: no data'],
    ['zlib without a size', how((content) => zlib(content).slice(2)), 'blob 2: no unpacked size'],
    [
      'zlib above 32 MiB',
      how((content) => [...number(2, varint(2 ** 25 + 1)), ...zlib(content).slice(2)]),
      /unpacked, more than the format allows$/,
    ],
    [
      'zlib below nothing',
      how((content) => [...number(2, varint(-5)), ...zlib(content).slice(2)]),
      'blob 2: no unpacked size',
    ],
    [
      'another size than it says',
      how((content) => [...number(2, varint(9)), ...zlib(content).slice(2)]),
      'blob 2: another size than it says',
    ],
    [
      'a raw size that is not so',
      how((content) => [...number(2, varint(9)), ...raw(content)]),
      'blob 2: another size than it says',
    ],
    [
      'zlib that is not',
      how((content) => [...number(2, varint(2)), ...bytes(3, content)]),
      'blob 2: its compressed data cannot be unpacked',
    ],
    ['a field that runs over its end', concat(header(), blob('OSMData', [0x0a, 5, 1])), 'blob 2'],
    ['a number that never ends', concat(header(), blob('OSMData', Array(20).fill(0xff))), 'blob 2'],
    ['a wire type that does not exist', concat(header(), blob('OSMData', [0x0b, 0])), 'blob 2'],
    [
      'a text that is missing',
      group(bytes(3, [...number(1, [1]), ...pair(1, 2)])),
      'blob 2: text 1 is missing',
    ],
    [
      'keys without values',
      data(makeTexts().field(), bytes(2, bytes(3, [...number(1, [1]), ...packed(2, [0])]))),
      'blob 2',
    ],
    [
      'values without keys',
      group(bytes(3, [...number(1, [1]), ...packed(3, [0])])),
      'blob 2: more values than keys',
    ],
    ['a way without an id', group(bytes(3, deltas(8, [1]))), 'blob 2: way id NaN'],
    [
      'a column too short',
      group(bytes(2, [...deltas(1, [1, 2]), ...deltas(8, [1, 2]), ...deltas(9, [1])])),
      'blob 2',
    ],
    [
      'a column too long',
      group(bytes(2, [...deltas(1, [1]), ...deltas(8, [1, 2]), ...deltas(9, [1])])),
      /differ in length$/,
    ],
    [
      'tags too short',
      group(bytes(2, [...deltas(1, [1, 2]), ...deltas(8, [1, 2]), ...deltas(9, [1, 2]), ...packed(10, [0])])),
      'blob 2',
    ],
    ['members too short', group(bytes(4, [...number(1, [1]), ...deltas(9, [1])])), 'blob 2'],
    [
      'members too long',
      group(bytes(4, [...number(1, [1]), ...packed(10, [1])])),
      /columns of members that differ in length$/,
    ],
    [
      'a member of no kind',
      group(bytes(4, [...number(1, [1]), ...deltas(9, [1]), ...packed(8, [0]), ...packed(10, [3])])),
      /unknown kind$/,
    ],
    ['changesets', group(bytes(5, [])), 'blob 2: changesets instead of map data'],
  ])('refuses %s', (_, file, where) => {
    const result = read(file);
    expect(result).toMatchObject({ ok: false, refusal: { code: 'input-damaged' } });
    const place = result.ok ? '' : result.refusal.context.where;
    if (where instanceof RegExp) expect(place).toMatch(where);
    else expect(place).toBe(where);
  });

  it('refuses a position off the globe', () => {
    const node = (lat: number) =>
      group(bytes(1, [...number(1, [2]), ...number(8, zigzag(lat)), ...number(9, [0])]));
    expect(outcome(read(node(900_000_000)))).toBe('ok');
    expect(outcome(read(node(900_000_001)))).toBe('input-coordinates: node/1: 90.0000001, 0');
    expect(outcome(read(group(bytes(1, number(1, [2])))))).toBe('input-coordinates: node/1: NaN, NaN');
  });

  it('ignores a box and a time that cannot be', () => {
    const box = bytes(1, [...number(1, zigzag(181e9)), ...number(2, zigzag(0)), ...number(3, zigzag(0))]);
    expect(read(header(box, number(32, varint(0))))).toEqual({
      ok: true,
      value: { source: { format: 'osm-pbf' }, nodes: [], ways: [], relations: [] },
    });
    expect(read(header(number(32, varint(10 ** 13))))).toMatchObject({ ok: true, value: { source: {} } });
  });

  it('refuses an element that is too large, before it fills the memory', () => {
    const refs = Array(1_000_001).fill(0);
    const long = blob('OSMData', bytes(2, bytes(3, [...number(1, [1]), ...bytes(8, refs)])), raw);
    expect(outcome(read(concat(header(), long)))).toMatch(/more than 1,000,000 nodes in one way$/);
  });

  it('refuses a blob that expands too far', () => {
    const zeros = Array(3 * 2 ** 20).fill(0);
    expect(outcome(read(concat(header(), blob('Filler', zeros), blob('OSMData', []))))).toBe('ok');
    expect(outcome(read(concat(header(), blob('OSMData', zeros))))).toBe('input-expands-too-far');
  });

  it('gives an answer to any bytes, and to any damage', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), fc.integer({ min: 1, max: 50 }), (any, pieces) => {
        expect(read(any, pieces).ok).toBe(any.length === 0 ? false : read(any).ok);
      }),
      { seed: 8, numRuns: 1000 },
    );
    const file = encodeTown(raw);
    const damage = fc.array(fc.tuple(fc.nat(file.length - 1), fc.nat(255)), { minLength: 1, maxLength: 4 });
    let refusals = 0;
    fc.assert(
      fc.property(damage, (changes) => {
        const damaged = file.slice();
        for (const [at, byte] of changes) damaged[at] = byte;
        if (!read(damaged).ok) refusals += 1;
      }),
      { seed: 9, numRuns: 3000 },
    );
    expect(refusals).toBeGreaterThan(500);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decode, outcome } from '../../tests/osm-fixtures/decode.ts';
import { TOWN, TOWN_JSON } from '../../tests/osm-fixtures/tunnel-town.ts';
import { fromOverpassJson } from './from-overpass-json.ts';

const read = (input: string | Uint8Array, size?: number) => decode(fromOverpassJson(), input, size);
const elements = (...list: readonly unknown[]) => JSON.stringify({ elements: list });
const raw = (inside: string) => `{"elements":[${inside}]}`;

const { bbox: _, ...town } = TOWN;
const EXPECTED = {
  ok: true,
  value: {
    ...town,
    source: { format: 'overpass-json', generator: 'invented', timestamp: '2026-01-02T03:04:05Z' },
  },
};

describe('fromOverpassJson', () => {
  it('reads a document, in pieces of any size', () => {
    for (const size of [1, 2, 3, 7, 100, 100_000]) expect(read(TOWN_JSON, size)).toEqual(EXPECTED);
    expect(read(`\uFEFF \n${JSON.stringify(JSON.parse(TOWN_JSON))}\n`)).toEqual(EXPECTED);
  });

  it('takes positions from "out geom", without losing tags', () => {
    const way = {
      type: 'way',
      id: 1,
      bounds: { minlat: 0, minlon: 0, maxlat: 1, maxlon: 1 },
      nodes: [5, 6, 7],
      geometry: [{ lat: 1.5, lon: 2.5 }, null, { lat: 3, lon: 4 }],
      tags: { highway: 'primary' },
    };
    const relation = {
      type: 'relation',
      id: 2,
      members: [
        { type: 'node', ref: 8, role: 'via', lat: 5, lon: 6 },
        { type: 'way', ref: 1, role: 'from', geometry: [{ lat: 1.5, lon: 2.5 }, null, { lat: 3, lon: 4 }] },
      ],
      tags: { type: 'restriction' },
    };
    const node = { type: 'node', id: 5, lat: 1.5, lon: 2.5, tags: { emergency: 'phone' } };
    expect(read(elements(node, way, relation))).toMatchObject({
      ok: true,
      value: {
        nodes: [
          { id: 5, lon: 2.5, lat: 1.5, tags: { emergency: 'phone' } },
          { id: 7, lon: 4, lat: 3 },
        ],
        ways: [{ id: 1, nodes: [5, 6, 7], tags: { highway: 'primary' } }],
        relations: [
          {
            id: 2,
            members: [
              { type: 'node', ref: 8, role: 'via' },
              { type: 'way', ref: 1, role: 'from' },
            ],
          },
        ],
      },
    });
  });

  it('takes ways without nodes ("out tags center"), nodes without positions, and other kinds', () => {
    const way = {
      type: 'way',
      id: 1,
      center: { lat: 1, lon: 1 },
      tags: { highway: 'primary', tunnel: 'yes' },
    };
    const others = [
      { type: 'node', id: 3 },
      { type: 'area', id: 4 },
      { type: 'count', id: 0, tags: { total: '1' } },
    ];
    expect(read(elements(way, ...others))).toMatchObject({
      ok: true,
      value: { nodes: [], ways: [{ id: 1, nodes: [] }], relations: [] },
    });
  });

  it('finds every cut', () => {
    const bytes = new TextEncoder().encode(TOWN_JSON);
    for (let length = 1; length < bytes.length; length += 1) {
      expect(outcome(read(bytes.subarray(0, length)))).toMatch(/^input-truncated: after \d+ elements$/);
    }
  });

  it('refuses a server’s complaint, with its words, and drops the partial data', () => {
    const remark = 'runtime error: Query timed out in "around" at line 1 after 6 seconds.';
    const document = { elements: [{ type: 'node', id: 1, lat: 1, lon: 1 }], remark };
    expect(read(JSON.stringify(document))).toEqual({
      ok: false,
      refusal: { code: 'overpass-remark', context: { remark } },
    });
    expect(outcome(read(JSON.stringify({ remark, elements: [] })))).toBe('overpass-remark');
    expect(outcome(read(JSON.stringify({ remark })))).toBe('overpass-remark');
  });

  it.each([
    [
      'GeoJSON',
      '{"type":"FeatureCollection","features":[{"type":"Feature","properties":{}}]}',
      'input-unknown-format',
    ],
    ['a list', '[]', 'input-unknown-format'],
    ['a number', '5', 'input-unknown-format'],
    ['no list', '{"elements":{}}', 'input-unknown-format'],
    ['elements further in', '{"a":{"elements":[]}}', 'input-unknown-format'],
    ['a name that only ends like it', '{"my\\"elements":[]}', 'input-unknown-format'],
    ['a name that is spelled like it', '{"\\u0065lements":[{"type":"area"}]}', 'input-unknown-format'],
    ['other JSON of any size', `{"features":[${'1,'.repeat(600_000)}`, 'input-unknown-format'],
    ['text after the end', '{"elements":[]} x', 'input-damaged: text after the end'],
    ['a bracket that closes another', '{"elements":[}', 'input-damaged: element 1'],
    ['a bracket of another kind', raw('{"type":"node"]'), 'input-damaged: element 1'],
    ['brackets crossed inside an element', raw('{"type":"node","id":[1}]'), 'input-damaged: element 1'],
    ['a comma too many', raw('{"type":"area"},'), 'input-damaged: element 2'],
    ['a comma too few', raw('{"type":"area"}{"type":"area"}'), 'input-damaged: element 2'],
    ['a comma at the start', raw(',{"type":"area"}'), 'input-damaged: element 1'],
    ['elements that are not objects', raw('1'), 'input-damaged: element 1'],
    ['null', raw('null'), 'input-damaged: element 1'],
    ['a list in the list', raw('[]'), 'input-damaged: element 1'],
    ['a broken element', raw('{"type":"area"},{"type":node}'), 'input-damaged: element 2'],
    ['a broken frame', '{"version":0.6.1,"elements":[]}', 'input-damaged: its frame'],
    ['deep nesting in an element', raw(`{"a":${'['.repeat(100)}`), 'input-damaged: nested too deep'],
    ['deep nesting elsewhere', `{"a":${'['.repeat(500_000)}`, 'input-damaged: nested too deep'],
    [
      'a text without end',
      raw(`{"a":"${'x'.repeat(17 * 2 ** 20)}`),
      'input-damaged: element 1: more than 16 MiB',
    ],
    ['a text without end elsewhere', `{"a":"${'x'.repeat(2 ** 21)}`, 'input-unknown-format'],
  ])('refuses %s', (_name, input, expected) => {
    expect(outcome(read(input))).toBe(expected);
  });

  it.each([
    [{ id: 1 }, 'undefined/1: it has no type'],
    [{ type: 5 }, '5/undefined: it has no type'],
    [{ type: 'node', id: 1, lat: 'x', lon: 1 }, 'node/1: a position is not a number'],
    [{ type: 'node', id: 1, lat: 1 }, 'node/1: a position is not a number'],
    [{ type: 'node', id: 1, lat: null, lon: null }, 'node/1: a position is not a number'],
    [{ type: 'node', id: '1', lat: 1, lon: 1 }, 'node/1: an id is not a number'],
    [{ type: 'node', id: 1, lat: 1, lon: 1, tags: 5 }, 'node/1: its tags are not an object'],
    [{ type: 'node', id: 1, lat: 1, lon: 1, tags: [] }, 'node/1: its tags are not an object'],
    [{ type: 'node', id: 1, lat: 1, lon: 1, tags: null }, 'node/1: its tags are not an object'],
    [{ type: 'node', id: 1, lat: 1, lon: 1, tags: { place: 5 } }, 'node/1: a tag is not a text'],
    [{ type: 'way', id: 1, nodes: 'abc' }, 'way/1: its nodes are not a list'],
    [{ type: 'way', id: 1, nodes: [null] }, 'way/1: an id is not a number'],
    [{ type: 'way', id: 1, nodes: [{}] }, 'way/1: an id is not a number'],
    [{ type: 'way', id: 1.5, nodes: [] }, 'way id 1.5'],
    [{ type: 'way', id: 1, nodes: [1], geometry: [], tags: 'x' }, 'way/1: its tags are not an object'],
    [
      { type: 'way', id: 1, nodes: [1], geometry: [null, null] },
      'way/1: its geometry is not as long as its nodes',
    ],
    [{ type: 'way', id: 1, nodes: [1], geometry: [5] }, 'way/1: a position is not an object'],
    [{ type: 'way', id: 1, nodes: [1], geometry: [{}] }, 'way/1: a position is not a number'],
    [{ type: 'relation', id: 1, members: 5 }, 'relation/1: its members are not a list'],
    [{ type: 'relation', id: 1, members: [5] }, 'relation/1: a member is not an object'],
    [{ type: 'relation', id: 1, members: [null] }, 'relation/1: a member is not an object'],
    [{ type: 'relation', id: 1, members: [{ type: 'x' }] }, 'relation/1: a member is of no kind'],
    [{ type: 'relation', id: 1, members: [{ type: 'way', ref: 'x' }] }, 'relation/1: an id is not a number'],
    [
      { type: 'relation', id: 1, members: [{ type: 'way', ref: 1, role: 5 }] },
      'relation/1: a role is not a text',
    ],
  ])('refuses %j', (element, where) => {
    expect(read(elements(element))).toEqual({
      ok: false,
      refusal: { code: 'input-damaged', context: { where } },
    });
  });

  it('takes null for a list as none', () => {
    expect(
      outcome(
        read(elements({ type: 'way', id: 1, nodes: null }, { type: 'relation', id: 1, members: null })),
      ),
    ).toBe('ok');
  });

  it('refuses a position off the globe', () => {
    expect(outcome(read(elements({ type: 'node', id: 9, lat: 91, lon: 1 })))).toBe(
      'input-coordinates: node/9: 91, 1',
    );
    expect(outcome(read(raw('{"type":"node","id":9,"lat":1e999,"lon":1}')))).toBe(
      'input-coordinates: node/9: Infinity, 1',
    );
  });

  it('keeps nothing of a tag that is named like an object’s prototype', () => {
    const result = read(
      raw('{"type":"way","id":1,"nodes":[],"tags":{"highway":"road","__proto__":"x"},"__proto__":{"x":1}}'),
    );
    expect(result).toMatchObject({ ok: true, value: { ways: [{ tags: { highway: 'road' } }] } });
    expect(Object.hasOwn(Object.prototype, 'x')).toBe(false);
  });

  it('refuses what is not UTF-8', () => {
    const bytes = new TextEncoder().encode(raw('{"type":"area","a":"ä"}'));
    const latin = Uint8Array.from(bytes.filter((byte) => byte !== 0xc3));
    expect(outcome(read(latin))).toBe('input-damaged: element 1');
  });

  it('gives an answer to any bytes', () => {
    const pieces = fc.constantFrom(
      '{"elements":[',
      '{"type":"node"',
      ',"id":1',
      '}',
      ']',
      '[',
      '"',
      '\\',
      ',',
      ':null',
      '{',
    );
    fc.assert(
      fc.property(fc.array(fc.oneof(pieces, fc.string()), { maxLength: 30 }), (parts) => {
        expect(read(parts.join('')).ok).toBeTypeOf('boolean');
      }),
      { seed: 4, numRuns: 1000 },
    );
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.integer({ min: 1, max: 50 }), (bytes, size) => {
        expect(read(bytes, size).ok).toBe(false);
      }),
      { seed: 5, numRuns: 1000 },
    );
    fc.assert(
      fc.property(fc.array(fc.jsonValue(), { maxLength: 5 }), (list) => {
        expect(read(elements(...list)).ok).toBeTypeOf('boolean');
      }),
      { seed: 6, numRuns: 1000 },
    );
    const shape = fc.record(
      {
        type: fc.constantFrom('node', 'way', 'relation'),
        id: fc.oneof(fc.integer(), fc.jsonValue()),
        lat: fc.oneof(fc.double(), fc.jsonValue()),
        lon: fc.oneof(fc.double(), fc.jsonValue()),
        nodes: fc.oneof(fc.array(fc.integer()), fc.jsonValue()),
        geometry: fc.oneof(fc.array(fc.jsonValue()), fc.jsonValue()),
        members: fc.oneof(fc.array(fc.jsonValue()), fc.jsonValue()),
        tags: fc.oneof(fc.dictionary(fc.string(), fc.string()), fc.jsonValue()),
      },
      { requiredKeys: ['type'] },
    );
    fc.assert(
      fc.property(fc.array(shape, { maxLength: 5 }), (list) => {
        expect(read(elements(...list)).ok).toBeTypeOf('boolean');
      }),
      { seed: 7, numRuns: 1000 },
    );
  });
});

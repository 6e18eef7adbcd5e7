import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeDeltas } from '../../shared/osm/decode-deltas.ts';
import { makeNodePicker } from '../../shared/osm/pbf-pick-nodes.ts';
import { makeRelationPicker } from '../../shared/osm/pbf-pick-relations.ts';
import { makeWayPicker } from '../../shared/osm/pbf-pick-ways.ts';
import { makeScanner } from '../../shared/osm/pbf-scan.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import {
  denseNodes,
  makeTexts,
  bytes as message,
  relation,
  way,
  zigzag,
} from '../osm-fixtures/encode-pbf.ts';
import { ELEMENTS } from '../osm-fixtures/tunnel-town.ts';

/* The reader of large files, block by block, against an encoder that shares no code with it. */

const byId = (a: { id: number }, b: { id: number }) => a.id - b.id;

function encodeBlock(): Uint8Array {
  const texts = makeTexts();
  const groups = [
    message(2, denseNodes(ELEMENTS.nodes.toSorted(byId), texts)),
    message(
      2,
      ELEMENTS.ways.toSorted(byId).flatMap(({ id, nodes, tags }) => way(id, nodes, tags, texts)),
    ),
    message(
      2,
      ELEMENTS.relations
        .toSorted(byId)
        .flatMap(({ id, members, tags }) => relation(id, members, tags, texts)),
    ),
  ];
  return Uint8Array.from([...texts.field(), ...groups.flat()]);
}

const EVERYWHERE = {
  starts: Float64Array.of(Number.NEGATIVE_INFINITY),
  ends: Float64Array.of(Number.POSITIVE_INFINITY),
};

/** Every pass over one block, each with all that it can be asked for. */
function readers(): readonly ((bytes: Uint8Array) => unknown)[] {
  const ids = Float64Array.from(ELEMENTS.nodes.map(({ id }) => id)).sort();
  const positions = { ids, lons: new Int32Array(ids.length), lats: new Int32Array(ids.length) };
  return [
    makeScanner((size) => new Uint8Array(size)),
    makeWayPicker(EVERYWHERE, Float64Array.of(11)),
    makeRelationPicker(Float64Array.of(10, 11)),
    makeNodePicker(positions, EVERYWHERE),
  ];
}

describe('decodeDeltas', () => {
  it('gives back what was encoded, wherever it stands, whatever the lengths', () => {
    const value = fc.oneof(
      fc.integer({ min: -30, max: 30 }),
      fc.integer({ min: -70, max: 70 }),
      fc.integer({ min: -4_000, max: 4_000 }),
      fc.integer({ min: -(2 ** 29), max: 2 ** 29 }),
      fc.integer({ min: -(2 ** 51), max: 2 ** 51 }),
    );
    const beside = fc.array(fc.constantFrom(1, 255), { maxLength: 6 });
    fc.assert(
      fc.property(fc.array(value, { maxLength: 40 }), fc.nat(6), beside, (values, before, after) => {
        const column = values.flatMap((each, index) => zigzag(each - (values[index - 1] ?? 0)));
        const all = Uint8Array.from([...Array(before).fill(255), ...column, ...after]);
        const out = new Float64Array(column.length);
        const view = new DataView(all.buffer);
        const count = decodeDeltas(view, before, before + column.length, out);
        expect(Array.from(out.subarray(0, count), (each) => each + 0)).toEqual(
          values.map((each) => each + 0),
        );
      }),
      { seed: 12, numRuns: 3000 },
    );
  });

  it('refuses a number that the column cuts off', () => {
    for (const length of [1, 2, 3, 4, 5, 8]) {
      const cut = new Uint8Array(length + 5).fill(128, 0, length);
      const decode = () => decodeDeltas(new DataView(cut.buffer), 0, length, new Float64Array(length));
      expect(decode).toThrow(RefusalError);
    }
  });
});

describe('the passes over a block', () => {
  it('find what the block holds', () => {
    const block = encodeBlock();
    const [scan, pickWays, pickRelations, pickNodes] = readers().map((read) => read(block));
    expect(scan).toMatchObject({ first: [-1, -5, 100], last: [9_000_000_001, 52, 102] });
    expect(scan).toMatchObject({
      tunnelNodes: Float64Array.of(1, 2, 3),
      outlines: Float64Array.of(11),
    });
    expect(pickWays).toMatchObject({ ids: Float64Array.of(-5, 10, 11), outlines: [] });
    expect(pickRelations).toEqual(ELEMENTS.relations.filter(({ id }) => id !== 102));
    const tagged = ELEMENTS.nodes.filter(({ id }) => id === 2 || id === 9_000_000_001);
    expect(pickNodes).toEqual(tagged);
  });

  it('answer to any damage with a refusal, or leave the file to the other decoder', () => {
    const block = encodeBlock();
    const damage = fc.array(fc.tuple(fc.nat(block.length - 1), fc.nat(255)), { minLength: 1, maxLength: 4 });
    const all = readers();
    let refusals = 0;
    fc.assert(
      fc.property(damage, fc.nat(block.length), (changes, length) => {
        const damaged = length % 3 === 0 ? block.slice(0, length) : block.slice();
        for (const [at, byte] of changes) if (at < damaged.length) damaged[at] = byte;
        for (const read of all) {
          try {
            read(damaged);
          } catch (error) {
            if (!(error instanceof RefusalError || error instanceof UnusualPbf)) throw error;
            refusals += 1;
          }
        }
      }),
      { seed: 13, numRuns: 4000 },
    );
    expect(refusals).toBeGreaterThan(2_000);
  });
});

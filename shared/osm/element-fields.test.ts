import { describe, expect, it } from 'vitest';
import { makeTexts, bytes as message, number, packed, varint } from '../../tests/osm-fixtures/encode-pbf.ts';
import { RefusalError } from '../outcome/refusal.ts';
import { BlockStrings, HOUSE_KEY, ROOF_KEY, WAY_KEY } from './block-strings.ts';
import { ElementFields } from './element-fields.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WireCursor } from './wire-cursor.ts';

/** Texts of a block by their numbers: 1 highway, 2 tunnel, 3 building, 4 others. */
function makeStrings(): BlockStrings {
  const texts = makeTexts();
  for (const key of ['highway', 'tunnel', 'building', 'colour']) texts.index(key);
  const cursor = new WireCursor(Uint8Array.from(texts.field()));
  cursor.readUnsigned();
  return new BlockStrings(cursor.readMessage());
}

const ID = number(1, varint(300));
const NODES = packed(8, [2, 2]);
const keys = (...numbers: number[]) => packed(2, numbers);
const values = (...numbers: number[]) => packed(3, numbers);

function readHead(...fields: number[][]): ElementFields {
  const element = new ElementFields();
  const bytes = Uint8Array.from([...fields.flat(), ...keys(1, 2, 3)]);
  // What stands after the element belongs to the next one.
  element.readHead(bytes, 0, fields.flat().length, makeStrings());
  return element;
}

describe('ElementFields.readHead', () => {
  it('reads id and keys, wherever they stand and however long they are', () => {
    const long = Array<number>(140).fill(4);
    const all: [number[][], number][] = [
      [[ID, keys(1, 2), values(4, 4), NODES], WAY_KEY | ROOF_KEY],
      [[ID, keys(4, 3), values(4, 4), NODES], HOUSE_KEY],
      [[keys(3), ID, NODES, values(4)], HOUSE_KEY],
      [[ID, NODES, values(4), keys(3)], HOUSE_KEY],
      [[ID, keys(...long, 3), values(...long, 4)], HOUSE_KEY],
      [[ID, keys(4), values(4)], 0],
      [[ID, keys()], 0],
      [[ID, NODES], 0],
      [[ID], 0],
    ];
    for (const [fields, bits] of all) {
      const { id, keyBits } = readHead(...fields);
      expect({ id, bits: keyBits & (WAY_KEY | ROOF_KEY | HOUSE_KEY) }).toEqual({ id: 300, bits });
    }
  });

  it('tells which key is highway', () => {
    expect(readHead(ID, keys(4, 4, 1), values(4, 4, 4)).highwayAt).toBe(2);
    expect(readHead(ID, keys(4, 4), values(4, 4)).highwayAt).toBe(-1);
    expect(readHead(ID).highwayAt).toBe(-1);
  });

  it('leaves keys in two runs, and keys one by one, to the other decoder', () => {
    expect(() => readHead(ID, keys(4), keys(1), values(4, 4))).toThrow(UnusualPbf);
    expect(() => readHead(ID, number(2, varint(1)), values(4))).toThrow(UnusualPbf);
  });

  it('refuses keys that reach beyond their element', () => {
    expect(() => readHead(ID, keys(1, 2).slice(0, -1))).toThrow(RefusalError);
    expect(() => readHead(ID, [18])).toThrow(RefusalError);
    expect(() => readHead(ID, message(2, [1]).slice(0, 2))).toThrow(RefusalError);
  });
});

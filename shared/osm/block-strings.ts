import { NODE_KEYS, ROOF_KEYS, WAY_KEYS } from './keep.ts';
import { findRoadClass } from './read-highway.ts';
import { makeStringTable, type StringTable, type TextBounds } from './string-table.ts';
import type { WireCursor } from './wire-cursor.ts';

/** What a text would say as a key: of a way or area, of a node, of a way under a roof, of any relation, of a house. */
export const WAY_KEY = 1;
export const NODE_KEY = 2;
export const ROOF_KEY = 4;
export const TYPE_KEY = 8;
export const HOUSE_KEY = 16;
const HIGHWAY = 32;

type Key = { readonly bytes: Uint8Array; readonly bits: number };

/**
 * The texts of one block of which most are never decoded: which keys are of interest is found by their bytes, so
 * that elements without one are passed over by number.
 */
export class BlockStrings {
  /** By number: the sum of WAY_KEY, NODE_KEY and so on that apply. */
  readonly bits: Uint8Array;
  /** All bits of the block. */
  readonly allBits: number;
  /** The number of the key `highway`, or -1. */
  readonly highway: number = -1;
  /** By number: whether the text is known to be a road class (1), or not to be one (2). */
  private readonly classes: Uint8Array;
  private readonly table: StringTable & TextBounds;

  /** Takes the table's message. */
  constructor(cursor: WireCursor) {
    this.table = makeStringTable(cursor);
    const { bounds } = this.table;
    this.bits = new Uint8Array(bounds.length / 2);
    this.classes = new Uint8Array(bounds.length / 2);
    let all = 0;
    for (let index = 0; index < this.bits.length; index += 1) {
      const start = bounds[2 * index] as number;
      const bits = findBits(cursor.bytes, start, (bounds[2 * index + 1] as number) - start);
      this.bits[index] = bits;
      all |= bits;
      if ((bits & HIGHWAY) !== 0) this.highway = index;
    }
    this.allBits = all;
  }

  /** Whether this text is a `highway` value that cars may use. */
  isRoadClass(index: number): boolean {
    const known = this.classes[index];
    if (known !== 0 && known !== undefined) return known === 1;
    const is = findRoadClass({ highway: this.get(index) }) !== undefined;
    this.classes[index] = is ? 1 : 2;
    return is;
  }

  /** Refuses 'input-damaged' for a number that has no text. */
  get(index: number): string {
    return this.table.get(index);
  }
}

const KEYS_BY_LENGTH = sortKeys();

function sortKeys(): readonly (readonly Key[] | undefined)[] {
  const byLength: Key[][] = [];
  for (const name of new Set([...WAY_KEYS, ...NODE_KEYS, ...ROOF_KEYS, 'type', 'building'])) {
    const bytes = new TextEncoder().encode(name);
    const bits =
      (WAY_KEYS.has(name) ? WAY_KEY : 0) |
      (NODE_KEYS.has(name) ? NODE_KEY : 0) |
      (ROOF_KEYS.has(name) ? ROOF_KEY : 0) |
      (name === 'type' ? TYPE_KEY : 0) |
      (name === 'building' ? HOUSE_KEY : 0) |
      (name === 'highway' ? HIGHWAY : 0);
    byLength[bytes.length] = [...(byLength[bytes.length] ?? []), { bytes, bits }];
  }
  return byLength;
}

function findBits(bytes: Uint8Array, start: number, length: number): number {
  const keys = KEYS_BY_LENGTH[length];
  if (keys === undefined) return 0;
  for (const key of keys) {
    let at = 0;
    while (at < length && bytes[start + at] === key.bytes[at]) at += 1;
    if (at === length) return key.bits;
  }
  return 0;
}

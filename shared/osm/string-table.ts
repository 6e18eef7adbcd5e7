import { RefusalError } from '../outcome/refusal.ts';
import { checkSize, MAX_TAGS } from './check-size.ts';
import type { Tags } from './extract.ts';
import type { PackedField } from './packed-field.ts';
import type { WireCursor } from './wire-cursor.ts';

const MAX_TEXTS = 1_000_000;
const text = new TextDecoder('utf-8', { ignoreBOM: true });

/** The texts of one block, decoded when they are first asked for. */
export type StringTable = {
  /** Refuses 'input-damaged' for a number that has no text. */
  get(index: number): string;
};

/** Where each text begins and ends in the block, in turns. */
export type TextBounds = { readonly bounds: readonly number[] };

/** Makes the table from the cursor over its message. */
export function makeStringTable(cursor: WireCursor): StringTable & TextBounds {
  const { bytes } = cursor;
  const bounds: number[] = [];
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) bounds.push(cursor.skipBytes(), cursor.at);
    else cursor.skip(tag);
    checkSize(bounds.length / 2, MAX_TEXTS, 'texts in one block');
  }
  const known: (string | undefined)[] = [];
  return {
    bounds,
    get(index) {
      const cached = known[index];
      if (cached !== undefined) return cached;
      const end = bounds[2 * index + 1];
      if (end === undefined) throw new RefusalError('input-damaged', { where: `text ${index} is missing` });
      const value = text.decode(bytes.subarray(bounds[2 * index], end));
      known[index] = value;
      return value;
    },
  };
}

/** Tags from two fields of equal length; refuses 'input-damaged' where one is longer. */
export function toTags(keys: PackedField, values: PackedField, strings: StringTable): Tags | undefined {
  if (keys.isEmpty && values.isEmpty) return undefined;
  const key = keys.cursor();
  const value = values.cursor();
  const tags: Record<string, string> = {};
  let count = 0;
  while (!key.done) {
    tags[strings.get(key.readUnsigned())] = strings.get(value.readUnsigned());
    checkSize(++count, MAX_TAGS, 'tags');
  }
  if (!value.done) throw new RefusalError('input-damaged', { where: 'more values than keys' });
  return tags;
}

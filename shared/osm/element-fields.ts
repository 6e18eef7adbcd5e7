import { RefusalError } from '../outcome/refusal.ts';
import type { BlockStrings } from './block-strings.ts';
import { checkSize, MAX_TAGS } from './check-size.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WireCursor } from './wire-cursor.ts';

/**
 * Where the fields of one way or relation stand in its block; one object serves for all, so that nothing is made
 * for the many elements that are passed over. Repeated fields must be packed in one run, as writers do.
 */
export class ElementFields {
  id = Number.NaN;
  /** By field number: 2 keys, 3 values; 8 a way's nodes or a relation's roles, 9 its refs, 10 its types. */
  readonly from = new Int32Array(11);
  readonly end = new Int32Array(11);
  private readonly cursor = new WireCursor(new Uint8Array(0));
  private readonly second = new WireCursor(new Uint8Array(0));

  /** Reads `bytes` between two places. Throws UnusualPbf for numbers that are not packed, RefusalError for damage. */
  read(bytes: Uint8Array, start: number, stop: number): void {
    const { cursor, from, end } = this;
    cursor.bytes = bytes;
    cursor.at = start;
    cursor.end = stop;
    this.id = Number.NaN;
    from[2] = from[3] = from[8] = from[9] = from[10] = 0;
    end[2] = end[3] = end[8] = end[9] = end[10] = 0;
    while (cursor.at < stop) {
      const tag = cursor.readUnsigned();
      if (tag === 8) this.id = cursor.readSigned();
      else if (tag === 18 || tag === 26 || tag === 66 || tag === 74 || tag === 82) {
        const field = tag >>> 3;
        if (end[field] !== 0) throw new UnusualPbf();
        from[field] = cursor.skipBytes();
        end[field] = cursor.at;
      } else {
        const field = tag >>> 3;
        if (field === 2 || field === 3 || (field >= 8 && field <= 10)) throw new UnusualPbf();
        cursor.skip(tag);
      }
    }
  }

  /** Reads the id alone, which writers put first. */
  readId(bytes: Uint8Array, start: number, stop: number): void {
    if (bytes[start] !== 8) {
      this.read(bytes, start, stop);
      return;
    }
    const { cursor } = this;
    cursor.bytes = bytes;
    cursor.at = start + 1;
    cursor.end = stop;
    this.id = cursor.readSigned();
  }

  isEmpty(field: number): boolean {
    return this.from[field] === this.end[field];
  }

  /** Whether one of the keys has one of these bits. */
  hasKey({ bits: known }: BlockStrings, bits: number): boolean {
    const { bytes } = this.cursor;
    const stop = this.end[2] as number;
    let at = this.from[2] as number;
    while (at < stop) {
      let byte = bytes[at++] as number;
      let index = byte & 127;
      for (let shift = 7; byte >= 128 && at < stop; shift += 7) {
        byte = bytes[at++] as number;
        index |= (byte & 127) << shift;
      }
      if (((known[index] ?? 0) & bits) !== 0) return true;
    }
    return false;
  }

  /** Whether the way is a road for cars by its `highway` alone, told by the numbers of key and value. */
  isRoad(strings: BlockStrings): boolean {
    const keys = this.open(this.cursor, 2);
    const values = this.open(this.second, 3);
    while (keys.at < keys.end) {
      const key = keys.readUnsigned();
      const value = values.readUnsigned();
      if (key === strings.highway) return strings.isRoadClass(value);
    }
    return false;
  }

  /** The tags whose key has one of these bits, or all tags (`bits` -1). */
  readTags(strings: BlockStrings, bits: number): Record<string, string> {
    const tags: Record<string, string> = {};
    this.visitTags((key, value) => {
      if (bits !== -1 && ((strings.bits[key] ?? 0) & bits) === 0) return;
      const name = strings.get(key);
      if (name !== '__proto__') tags[name] = strings.get(value);
    });
    return tags;
  }

  /** Hands over the numbers of each key and value; refuses 'input-damaged' where there are more of one. */
  visitTags(visit: (key: number, value: number) => void): void {
    const keys = this.open(this.cursor, 2);
    const values = this.open(this.second, 3);
    let count = 0;
    while (keys.at < keys.end) {
      visit(keys.readUnsigned(), values.readUnsigned());
      checkSize(++count, MAX_TAGS, 'tags');
    }
    if (!values.done) throw new RefusalError('input-damaged', { where: 'more values than keys' });
  }

  private open(cursor: WireCursor, field: number): WireCursor {
    cursor.bytes = this.cursor.bytes;
    cursor.at = this.from[field] as number;
    cursor.end = this.end[field] as number;
    return cursor;
  }
}

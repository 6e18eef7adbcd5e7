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
  keyBits = 0;
  highwayAt = -1;
  private bytes: Uint8Array = new Uint8Array(0);
  private readonly cursor = new WireCursor(new Uint8Array(0));
  private readonly second = new WireCursor(new Uint8Array(0));

  /** Reads `bytes` between two places. Throws UnusualPbf for numbers that are not packed, RefusalError for damage. */
  read(bytes: Uint8Array, start: number, stop: number): void {
    const { from, end } = this;
    this.bytes = bytes;
    this.id = Number.NaN;
    from[2] = from[3] = from[8] = from[9] = from[10] = 0;
    end[2] = end[3] = end[8] = end[9] = end[10] = 0;
    let at = start;
    while (at < stop) {
      const tag = bytes[at] as number;
      const length = bytes[at + 1] as number;
      if (tag === 8) {
        at = this.readShortId(at + 1, stop);
        continue;
      }
      if ((tag & 7) !== 2 || length >= 128) {
        at = this.readOther(at, stop);
        continue;
      }
      at += 2;
      // Field 4 tells who edited when; it is the one that all elements have and that is never wanted.
      if (tag !== 34) this.note(tag >>> 3, at, at + length);
      at += length;
    }
    if (at !== stop) throw new RefusalError('input-damaged');
  }

  /**
   * Reads the id and what the keys say (as `readKeys` does), without the rest where these come first, as all writers
   * put them: enough to pass an element over.
   */
  readHead(bytes: Uint8Array, start: number, stop: number, strings: BlockStrings): void {
    this.bytes = bytes;
    if (bytes[start] === 8) {
      const at = this.readShortId(start + 1, stop) + 2;
      const end = at + (bytes[at - 1] as number);
      // A length of 128 or more takes further bytes; a second run of keys is for `read` to find.
      if (bytes[at - 2] === 18 && end < at + 128 && end <= stop && bytes[end] !== 18) {
        this.seeKeys(at, end, strings);
        return;
      }
    }
    this.read(bytes, start, stop);
    this.readKeys(strings);
  }

  /** Reads the id alone, which writers put first. */
  readId(bytes: Uint8Array, start: number, stop: number): void {
    if (bytes[start] !== 8) {
      this.read(bytes, start, stop);
      return;
    }
    this.bytes = bytes;
    this.readShortId(start + 1, stop);
  }

  /** Reads an id of up to five bytes, as all in use have; returns where it ends. */
  private readShortId(at: number, stop: number): number {
    const { bytes } = this;
    let id = 0;
    let factor = 1;
    for (let next = at; next < stop && next < at + 5; next += 1) {
      const byte = bytes[next] as number;
      id += (byte & 127) * factor;
      if (byte < 128) {
        this.id = id;
        return next + 1;
      }
      factor *= 128;
    }
    return this.readOther(at - 1, stop);
  }

  /** Reads a field that is a single number, or long, or unknown; returns where it ends. */
  private readOther(at: number, stop: number): number {
    const { cursor } = this;
    cursor.bytes = this.bytes;
    cursor.at = at;
    cursor.end = stop;
    const tag = cursor.readUnsigned();
    const field = tag >>> 3;
    if (tag === 8) this.id = cursor.readSigned();
    else if ((tag & 7) === 2) {
      const start = cursor.skipBytes();
      this.note(field, start, cursor.at);
    } else {
      if (isRepeated(field)) throw new UnusualPbf();
      cursor.skip(tag);
    }
    return cursor.at;
  }

  private note(field: number, start: number, stop: number): void {
    if (!isRepeated(field)) return;
    if (this.end[field] !== 0) throw new UnusualPbf();
    this.from[field] = start;
    this.end[field] = stop;
  }

  isEmpty(field: number): boolean {
    return this.from[field] === this.end[field];
  }

  /**
   * After `read`: looks at the keys alone. `keyBits` is then what they all say together (see BlockStrings), and
   * `highwayAt` which of them is `highway`, or -1.
   */
  readKeys(strings: BlockStrings): void {
    this.seeKeys(this.from[2] as number, this.end[2] as number, strings);
  }

  private seeKeys(from: number, stop: number, { bits, highway }: BlockStrings): void {
    const { bytes } = this;
    let at = from;
    let all = 0;
    let highwayAt = -1;
    for (let count = 0; at < stop; count += 1) {
      let byte = bytes[at++] as number;
      let index = byte & 127;
      for (let shift = 7; byte >= 128 && at < stop; shift += 7) {
        byte = bytes[at++] as number;
        index |= (byte & 127) << shift;
      }
      all |= bits[index] ?? 0;
      if (index === highway) highwayAt = count;
    }
    this.keyBits = all;
    this.highwayAt = highwayAt;
  }

  /** After `read` and `readKeys` or `readHead`: whether `highway` says a road for cars. */
  isRoad(strings: BlockStrings): boolean {
    if (this.highwayAt < 0) return false;
    const values = this.open(this.second, 3);
    for (let count = 0; count < this.highwayAt; count += 1) values.readUnsigned();
    return strings.isRoadClass(values.readUnsigned());
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
    cursor.bytes = this.bytes;
    cursor.at = this.from[field] as number;
    cursor.end = this.end[field] as number;
    return cursor;
  }
}

function isRepeated(field: number): boolean {
  return field === 2 || field === 3 || field === 8 || field === 9 || field === 10;
}

import { RefusalError } from '../outcome/refusal.ts';

const LOW = 2 ** 32;

/**
 * Walks over protocol-buffer bytes (`bytes[at]` up to `end`). Every reading method refuses 'input-damaged' when the
 * bytes run out; whoever knows the place adds it.
 */
export class WireCursor {
  bytes: Uint8Array;
  at: number;
  end: number;
  /** Upper half of the last 64-bit value that `read64` read, unsigned; the lower half is its result. */
  private high = 0;

  constructor(bytes: Uint8Array, at = 0, end = bytes.length) {
    this.bytes = bytes;
    this.at = at;
    this.end = end;
  }

  get done(): boolean {
    return this.at >= this.end;
  }

  /** An unsigned number; above 2^53 it is not exact. */
  readUnsigned(): number {
    const first = this.bytes[this.at] as number;
    if (first < 128 && this.at < this.end) {
      this.at += 1;
      return first;
    }
    return this.readLong();
  }

  /** Two and three bytes, as most lengths and ids take, without the detour over 64 bits. */
  private readLong(): number {
    const { bytes, at, end } = this;
    if (at + 3 <= end) {
      const first = bytes[at] as number;
      const second = bytes[at + 1] as number;
      if (second < 128) {
        this.at = at + 2;
        return (first & 127) | (second << 7);
      }
      const third = bytes[at + 2] as number;
      if (third < 128) {
        this.at = at + 3;
        return (first & 127) | ((second & 127) << 7) | (third << 14);
      }
    }
    const low = this.read64();
    return this.high * LOW + low;
  }

  /** An `int64` or `int32`, where negative numbers take ten bytes. */
  readSigned(): number {
    const { bytes, at, end } = this;
    if (at + 4 <= end && ((bytes[at + 3] as number) & 128) === 0) return this.readUnsigned();
    const low = this.read64();
    return (this.high | 0) * LOW + low;
  }

  /** A `sint64`, where the sign is the lowest bit. */
  readZigzag(): number {
    const value = this.readUnsigned();
    return value % 2 === 0 ? value / 2 : -(value + 1) / 2;
  }

  /** Reads a length and moves past that many bytes; gives where they start. */
  skipBytes(): number {
    const length = this.readUnsigned();
    const start = this.at;
    if (length > this.end - start) throw new RefusalError('input-damaged');
    this.at = start + length;
    return start;
  }

  /** The bytes of a field, still in place. */
  readBytes(): Uint8Array {
    const start = this.skipBytes();
    return this.bytes.subarray(start, this.at);
  }

  /** A cursor over the field's own bytes. */
  readMessage(): WireCursor {
    const start = this.skipBytes();
    return new WireCursor(this.bytes, start, this.at);
  }

  /** Moves past a field that is of no interest; `tag` holds its number and wire type. */
  skip(tag: number): void {
    const type = tag & 7;
    if (type === 0) this.read64();
    else if (type === 1) this.at += 8;
    else if (type === 2) this.skipBytes();
    else if (type === 5) this.at += 4;
    else throw new RefusalError('input-damaged');
    if (this.at > this.end) throw new RefusalError('input-damaged');
  }

  private read64(): number {
    const { bytes, end } = this;
    let at = this.at;
    let low = 0;
    let high = 0;
    for (let shift = 0; shift < 70; shift += 7) {
      if (at >= end) throw new RefusalError('input-damaged');
      const byte = bytes[at++] as number;
      const bits = byte & 127;
      if (shift < 28) low |= bits << shift;
      else if (shift === 28) {
        low |= bits << 28;
        high = bits >>> 4;
      } else high |= bits << (shift - 32);
      if (byte < 128) {
        this.at = at;
        this.high = high >>> 0;
        return low >>> 0;
      }
    }
    throw new RefusalError('input-damaged');
  }
}

import { WireCursor } from './wire-cursor.ts';

const NOTHING = new Uint8Array(0);

/**
 * A repeated number field of a protocol-buffer message. Writers pack it into one run of bytes, but may also split
 * it or write each number by itself; the numbers' bytes are the same each time, so they are only strung together.
 */
export class PackedField {
  private bytes: Uint8Array = NOTHING;
  private start = 0;
  private end = 0;
  private own: Uint8Array = NOTHING;

  clear(): void {
    this.bytes = NOTHING;
    this.start = 0;
    this.end = 0;
  }

  /** Takes the value of the field that the cursor stands on; `tag` holds the field's number and wire type. */
  take(cursor: WireCursor, tag: number): void {
    if ((tag & 7) === 2) {
      const start = cursor.skipBytes();
      this.append(cursor.bytes, start, cursor.at);
      return;
    }
    const start = cursor.at;
    cursor.skip(tag);
    this.append(cursor.bytes, start, cursor.at);
  }

  get isEmpty(): boolean {
    return this.end === this.start;
  }

  cursor(): WireCursor {
    return new WireCursor(this.bytes, this.start, this.end);
  }

  private append(bytes: Uint8Array, start: number, end: number): void {
    if (this.isEmpty) {
      this.bytes = bytes;
      this.start = start;
      this.end = end;
      return;
    }
    const length = this.end - this.start;
    const total = length + end - start;
    const inOwn = this.bytes === this.own && this.start === 0;
    if (!inOwn || total > this.own.length) {
      const grown = new Uint8Array(total * 2);
      grown.set(this.bytes.subarray(this.start, this.end));
      this.own = grown;
    }
    this.own.set(bytes.subarray(start, end), length);
    this.bytes = this.own;
    this.start = 0;
    this.end = total;
  }
}

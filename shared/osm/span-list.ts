import { UnusualPbf } from './unusual-pbf.ts';

/** Above what any writer puts into one block (8,000 elements, some 64,000), so that a hostile block costs no memory. */
const MAX_COUNT = 1 << 20;

/** Where messages stand in a block. Emptied by setting `count` to 0. */
export class SpanList {
  count = 0;
  /** The places of each message's tag, of its content, and where it ends. */
  start = new Int32Array(1 << 4);
  from = new Int32Array(1 << 4);
  end = new Int32Array(1 << 4);

  /** Throws UnusualPbf beyond 2^20 messages. */
  add(start: number, from: number, end: number): void {
    if (this.count === this.end.length) this.grow();
    this.start[this.count] = start;
    this.from[this.count] = from;
    this.end[this.count++] = end;
  }

  private grow(): void {
    if (this.count === MAX_COUNT) throw new UnusualPbf();
    this.start = grown(this.start);
    this.from = grown(this.from);
    this.end = grown(this.end);
  }
}

function grown(places: Int32Array<ArrayBuffer>): Int32Array<ArrayBuffer> {
  const more = new Int32Array(4 * places.length);
  more.set(places);
  return more;
}

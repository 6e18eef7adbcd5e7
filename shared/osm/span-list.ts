import { UnusualPbf } from './unusual-pbf.ts';

/** Above what any writer puts into one block (8,000 elements, some 64,000), so that a hostile block costs no memory. */
const MAX_COUNT = 1 << 20;

/** Where messages stand in a block: from each `from` up to each `end`. Emptied by setting `count` to 0. */
export class SpanList {
  count = 0;
  from = new Int32Array(1 << 4);
  end = new Int32Array(1 << 4);

  /** Throws UnusualPbf beyond 2^20 messages. */
  add(from: number, end: number): void {
    if (this.count === this.from.length) this.grow();
    this.from[this.count] = from;
    this.end[this.count++] = end;
  }

  private grow(): void {
    const { from, end, count } = this;
    if (count === MAX_COUNT) throw new UnusualPbf();
    this.from = new Int32Array(4 * count);
    this.from.set(from);
    this.end = new Int32Array(4 * count);
    this.end.set(end);
  }
}

import { decodeDeltas } from './decode-deltas.ts';

/** One packed column of differences at a time, decoded into an array that serves again for the next one. */
export class DeltaList {
  count = 0;
  items = new Float64Array(1 << 8);

  /** Decodes what stands between two places; refuses 'input-damaged'. */
  read(view: DataView, from: number, end: number): void {
    // A number takes at least a byte.
    if (end - from > this.items.length) this.items = new Float64Array(2 * (end - from));
    this.count = decodeDeltas(view, from, end, this.items);
  }
}

import { RefusalError } from '../outcome/refusal.ts';
import { decodeDeltas } from './decode-deltas.ts';
import type { BlockFrame } from './pbf-frame.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WireCursor } from './wire-cursor.ts';

/**
 * Nodes written as columns of differences, decoded column by column into arrays that are used again for the next
 * ones. `lats` and `lons` are in the block's own unit.
 */
export class DenseColumns {
  count = 0;
  ids = new Float64Array(0);
  lats = new Float64Array(0);
  lons = new Float64Array(0);
  /** Tags of all nodes: pairs of texts, closed by a 0 for each node; `tagsEnd` is 0 where none has any. */
  tagsFrom = 0;
  tagsEnd = 0;

  /** Decodes the message between two places. Throws UnusualPbf for columns in several runs, RefusalError for damage. */
  read({ bytes, view }: BlockFrame, from: number, end: number): void {
    const cursor = new WireCursor(bytes, from, end);
    const starts = [0, 0, 0, 0];
    const ends = [0, 0, 0, 0];
    while (!cursor.done) {
      const tag = cursor.readUnsigned();
      const column = tag === 10 ? 0 : tag === 66 ? 1 : tag === 74 ? 2 : tag === 82 ? 3 : -1;
      if (column < 0) {
        const field = tag >>> 3;
        if (field === 1 || (field >= 8 && field <= 10)) throw new UnusualPbf();
        cursor.skip(tag);
        continue;
      }
      if (ends[column] !== 0) throw new UnusualPbf();
      starts[column] = cursor.skipBytes();
      ends[column] = cursor.at;
    }
    const room = Math.max(...ends.map((columnEnd, column) => columnEnd - (starts[column] as number)));
    if (room > this.ids.length) this.grow(room);
    const decode = (column: number, out: Float64Array) =>
      decodeDeltas(view, starts[column] as number, ends[column] as number, out);
    this.count = decode(0, this.ids);
    if (decode(1, this.lats) !== this.count || decode(2, this.lons) !== this.count) {
      throw new RefusalError('input-damaged', { where: 'columns of nodes that differ in length' });
    }
    this.tagsFrom = starts[3] as number;
    this.tagsEnd = ends[3] as number;
  }

  private grow(room: number): void {
    this.ids = new Float64Array(room * 2);
    this.lats = new Float64Array(room * 2);
    this.lons = new Float64Array(room * 2);
  }
}

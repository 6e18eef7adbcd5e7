import { RefusalError } from '../outcome/refusal.ts';
import type { Collector } from './make-collector.ts';
import { fromDenseNodes, fromNode } from './pbf-nodes.ts';
import { fromRelation } from './pbf-relations.ts';
import { fromWay } from './pbf-ways.ts';
import { makeStringTable, type StringTable } from './string-table.ts';
import { WireCursor } from './wire-cursor.ts';

/** What the elements of one block are read with. */
export type BlockScale = {
  readonly strings: StringTable;
  /** Positions are `offset + granularity × value`, in 1e-9 degrees. */
  readonly granularity: number;
  readonly latOffset: number;
  readonly lonOffset: number;
};

/**
 * Reads one data block of an OSM PBF file and hands its elements to the collector, in the order of the file.
 * Fields may come in any order and groups may mix kinds. Refuses 'input-damaged'.
 */
export function fromPbfBlock(bytes: Uint8Array, collector: Collector): void {
  const cursor = new WireCursor(bytes);
  let strings = makeStringTable(new WireCursor(bytes, 0, 0));
  let granularity = 100;
  let latOffset = 0;
  let lonOffset = 0;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) strings = makeStringTable(cursor.readMessage());
    else if (tag === 136) granularity = cursor.readSigned();
    else if (tag === 152) latOffset = cursor.readSigned();
    else if (tag === 160) lonOffset = cursor.readSigned();
    else cursor.skip(tag);
  }
  const scale = { strings, granularity, latOffset, lonOffset };
  // Groups may stand before what they are read with, so they are read on a second walk.
  const again = new WireCursor(bytes);
  while (!again.done) {
    const tag = again.readUnsigned();
    if (tag === 18) fromGroup(again.readMessage(), scale, collector);
    else again.skip(tag);
  }
}

function fromGroup(cursor: WireCursor, scale: BlockScale, collector: Collector): void {
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) fromNode(cursor.readMessage(), scale, collector);
    else if (tag === 18) fromDenseNodes(cursor.readMessage(), scale, collector);
    else if (tag === 26) fromWay(cursor.readMessage(), scale, collector);
    else if (tag === 34) fromRelation(cursor.readMessage(), scale, collector);
    else if (tag === 42) throw new RefusalError('input-damaged', { where: 'changesets instead of map data' });
    else cursor.skip(tag);
  }
}

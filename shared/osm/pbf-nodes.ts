import { RefusalError } from '../outcome/refusal.ts';
import type { Tags } from './extract.ts';
import type { Collector } from './make-collector.ts';
import { PackedField } from './packed-field.ts';
import type { BlockScale } from './pbf-block.ts';
import { type StringTable, toTags } from './string-table.ts';
import type { WireCursor } from './wire-cursor.ts';

/** Reads one node that is written by itself. */
export function fromNode(cursor: WireCursor, scale: BlockScale, collector: Collector): void {
  const keys = new PackedField();
  const values = new PackedField();
  let id = Number.NaN;
  let lat = Number.NaN;
  let lon = Number.NaN;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    const field = tag >>> 3;
    if (tag === 8) id = cursor.readZigzag();
    else if (field === 2) keys.take(cursor, tag);
    else if (field === 3) values.take(cursor, tag);
    else if (tag === 64) lat = cursor.readZigzag();
    else if (tag === 72) lon = cursor.readZigzag();
    else cursor.skip(tag);
  }
  collector.node(id, toLon(lon, scale), toLat(lat, scale), toTags(keys, values, scale.strings));
}

/** Reads a run of nodes that is written as columns of differences. */
export function fromDenseNodes(cursor: WireCursor, scale: BlockScale, collector: Collector): void {
  const columns = takeColumns(cursor);
  const ids = columns.ids.cursor();
  const lats = columns.lats.cursor();
  const lons = columns.lons.cursor();
  const keysAndValues = columns.keysAndValues.cursor();
  const tagged = !columns.keysAndValues.isEmpty;
  let id = 0;
  let lat = 0;
  let lon = 0;
  while (!ids.done) {
    id += ids.readZigzag();
    lat += lats.readZigzag();
    lon += lons.readZigzag();
    const tags = tagged ? takeTags(keysAndValues, scale.strings) : undefined;
    collector.node(id, toLon(lon, scale), toLat(lat, scale), tags);
  }
  if (!lats.done || !lons.done || !keysAndValues.done) {
    throw new RefusalError('input-damaged', { where: 'columns of nodes that differ in length' });
  }
}

function takeColumns(cursor: WireCursor) {
  const ids = new PackedField();
  const lats = new PackedField();
  const lons = new PackedField();
  const keysAndValues = new PackedField();
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    const field = tag >>> 3;
    if (field === 1) ids.take(cursor, tag);
    else if (field === 8) lats.take(cursor, tag);
    else if (field === 9) lons.take(cursor, tag);
    else if (field === 10) keysAndValues.take(cursor, tag);
    else cursor.skip(tag);
  }
  return { ids, lats, lons, keysAndValues };
}

/** One node's tags in the shared column: pairs, closed by a 0. */
function takeTags(cursor: WireCursor, strings: StringTable): Tags | undefined {
  let key = cursor.readUnsigned();
  if (key === 0) return undefined;
  const tags: Record<string, string> = {};
  while (key !== 0) {
    tags[strings.get(key)] = strings.get(cursor.readUnsigned());
    key = cursor.readUnsigned();
  }
  return tags;
}

/** Degrees from a block's own unit of length. */
export function toLon(value: number, scale: Pick<BlockScale, 'granularity' | 'lonOffset'>): number {
  return (scale.lonOffset + scale.granularity * value) / 1e9;
}

/** Degrees from a block's own unit of length. */
export function toLat(value: number, scale: Pick<BlockScale, 'granularity' | 'latOffset'>): number {
  return (scale.latOffset + scale.granularity * value) / 1e9;
}

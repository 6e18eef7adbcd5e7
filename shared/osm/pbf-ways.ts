import { RefusalError } from '../outcome/refusal.ts';
import { checkSize, MAX_WAY_NODES } from './check-size.ts';
import type { Collector } from './make-collector.ts';
import { PackedField } from './packed-field.ts';
import type { BlockScale } from './pbf-block.ts';
import { toLat, toLon } from './pbf-nodes.ts';
import { toTags } from './string-table.ts';
import type { WireCursor } from './wire-cursor.ts';

/** Reads one way; where the file carries the positions of its nodes along, those too. */
export function fromWay(cursor: WireCursor, scale: BlockScale, collector: Collector): void {
  const [keys, values, refs, lats, lons] = [1, 2, 3, 4, 5].map(() => new PackedField()) as [
    PackedField,
    PackedField,
    PackedField,
    PackedField,
    PackedField,
  ];
  let id = Number.NaN;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    const field = tag >>> 3;
    if (tag === 8) id = cursor.readSigned();
    else if (field === 2) keys.take(cursor, tag);
    else if (field === 3) values.take(cursor, tag);
    else if (field === 8) refs.take(cursor, tag);
    else if (field === 9) lats.take(cursor, tag);
    else if (field === 10) lons.take(cursor, tag);
    else cursor.skip(tag);
  }
  const nodes = toNodeIds(refs);
  collector.way(id, nodes, toTags(keys, values, scale.strings));
  if (!lats.isEmpty) addPositions(nodes, lats.cursor(), lons.cursor(), scale, collector);
}

function toNodeIds(refs: PackedField): number[] {
  const cursor = refs.cursor();
  const nodes: number[] = [];
  let node = 0;
  while (!cursor.done) {
    node += cursor.readZigzag();
    nodes.push(node);
    checkSize(nodes.length, MAX_WAY_NODES, 'nodes in one way');
  }
  return nodes;
}

function addPositions(
  nodes: readonly number[],
  lats: WireCursor,
  lons: WireCursor,
  scale: BlockScale,
  collector: Collector,
): void {
  let lat = 0;
  let lon = 0;
  for (const node of nodes) {
    lat += lats.readZigzag();
    lon += lons.readZigzag();
    collector.position(node, toLon(lon, scale), toLat(lat, scale));
  }
  if (!lats.done || !lons.done) {
    throw new RefusalError('input-damaged', { where: 'a way with more positions than nodes' });
  }
}

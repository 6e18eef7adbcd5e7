import { type BlockStrings, NODE_KEY } from './block-strings.ts';
import { DenseColumns } from './dense-columns.ts';
import type { OsmNode, Tags } from './extract.ts';
import { findFirstAbove, IdFinder, type IdRanges } from './id-ranges.ts';
import { wantsNode } from './keep.ts';
import { type BlockFrame, makeFrameReader } from './pbf-frame.ts';
import { toLat, toLon } from './pbf-nodes.ts';
import { WireCursor } from './wire-cursor.ts';

/** Positions of nodes in the order of their ascending ids, in units of 1e-7 degrees; UNSET where not found. */
export type Positions = { readonly ids: Float64Array; readonly lons: Int32Array; readonly lats: Int32Array };

export const UNSET = -(2 ** 31);
/** OpenStreetMap's own unit of position, in a degree. */
export const UNIT = 1e7;

/**
 * Makes the reader of the last pass: it writes the positions of the nodes that are needed into `positions` and
 * returns the nodes whose tags are kept, among those that are needed or lie in `near`. Refuses 'input-damaged'.
 */
export function makeNodePicker(positions: Positions, near: IdRanges): (bytes: Uint8Array) => OsmNode[] {
  const columns = new DenseColumns();
  const finder = new IdFinder(near);
  const readFrame = makeFrameReader();
  return (bytes) => {
    const frame = readFrame(bytes);
    const { nodes, strings } = frame;
    const tagged: OsmNode[] = [];
    const addNode = (index: number, tags: Tags) => {
      const node = toNode(columns, index, frame, tags);
      if (finder.has(node.id) || hasPosition(positions, node.id)) tagged.push(node);
    };
    for (let index = 0; index < nodes.count; index += 1) {
      columns.read(frame, nodes.from[index] as number, nodes.end[index] as number);
      setPositions(positions, columns, frame);
      if (columns.tagsEnd === 0 || (strings.allBits & NODE_KEY) === 0) continue;
      visitTags(columns, frame, addNode);
    }
    return tagged;
  };
}

function hasPosition({ ids, lons }: Positions, id: number): boolean {
  const slot = findFirstAbove(ids, id) - 1;
  return ids[slot] === id && lons[slot] !== UNSET;
}

/** Both lists ascend, so one walk over both finds all. */
function setPositions(positions: Positions, columns: DenseColumns, frame: BlockFrame): void {
  const { ids, count } = columns;
  if (count === 0) return;
  let slot = findFirstAbove(positions.ids, (ids[0] as number) - 1);
  const end = findFirstAbove(positions.ids, ids[count - 1] as number);
  for (let index = 0; index < count && slot < end; index += 1) {
    const id = ids[index] as number;
    while (slot < end && (positions.ids[slot] as number) < id) slot += 1;
    if (positions.ids[slot] !== id) continue;
    positions.lons[slot] = Math.round(toLon(columns.lons[index] as number, frame) * UNIT);
    positions.lats[slot] = Math.round(toLat(columns.lats[index] as number, frame) * UNIT);
  }
}

function toNode(columns: DenseColumns, index: number, frame: BlockFrame, tags: Tags): OsmNode {
  return {
    id: columns.ids[index] as number,
    lon: (Math.round(toLon(columns.lons[index] as number, frame) * UNIT) | 0) / UNIT,
    lat: (Math.round(toLat(columns.lats[index] as number, frame) * UNIT) | 0) / UNIT,
    tags,
  };
}

/** Hands over the tags of each node whose tags are kept. */
function visitTags(
  columns: DenseColumns,
  { bytes, strings }: BlockFrame,
  visit: (index: number, tags: Tags) => void,
): void {
  const cursor = new WireCursor(bytes, columns.tagsFrom, columns.tagsEnd);
  for (let index = 0; index < columns.count; index += 1) {
    const start = cursor.at;
    let may = false;
    for (let key = cursor.readUnsigned(); key !== 0; key = cursor.readUnsigned()) {
      may ||= ((strings.bits[key] ?? 0) & NODE_KEY) !== 0;
      cursor.readUnsigned();
    }
    if (!may) continue;
    const tags = readTags(new WireCursor(bytes, start, cursor.at), strings);
    if (wantsNode(tags)) visit(index, tags);
  }
}

function readTags(cursor: WireCursor, strings: BlockStrings): Tags {
  const tags: Record<string, string> = {};
  for (let key = cursor.readUnsigned(); key !== 0; key = cursor.readUnsigned()) {
    const name = strings.get(key);
    const value = strings.get(cursor.readUnsigned());
    if (name !== '__proto__') tags[name] = value;
  }
  return tags;
}

import { RefusalError } from '../outcome/refusal.ts';
import type { OsmNode, Tags } from './extract.ts';

const BLOCK = 65_536;
/** OpenStreetMap itself stores positions in units of 1e-7 degrees (about 1 cm), so they fit 32 bits. */
const UNIT = 1e7;
const UNSET = -(2 ** 31);

type Block = { readonly ids: Float64Array; readonly lons: Int32Array; readonly lats: Int32Array };

/** Positions of every node of a file, 16 bytes each, since a file names its nodes before the ways that need them. */
export type NodeStore = {
  /** Adds a position in degrees; refuses 'input-coordinates' off the globe, 'input-too-large' beyond `maxNodes`. */
  add(id: number, lon: number, lat: number): void;
  /** The nodes of these ids that are known, in the order of `ids`, which must ascend; of doubles the last counts. */
  pick(ids: Float64Array, tags: ReadonlyMap<number, Tags>): OsmNode[];
};

/** Makes an empty store for at most `maxNodes` nodes. */
export function makeNodeStore(maxNodes: number): NodeStore {
  const blocks: Block[] = [];
  let count = 0;
  let previous = Number.NEGATIVE_INFINITY;
  let ascending = true;
  return {
    add(id, lon, lat) {
      checkPosition(id, lon, lat);
      if (count === maxNodes) {
        throw new RefusalError('input-too-large', { limit: `${maxNodes.toLocaleString('en')} nodes` });
      }
      const at = count % BLOCK;
      if (at === 0) blocks.push(makeBlock());
      const block = blocks[blocks.length - 1] as Block;
      block.ids[at] = id;
      block.lons[at] = Math.round(lon * UNIT);
      block.lats[at] = Math.round(lat * UNIT);
      if (id < previous) ascending = false;
      previous = id;
      count += 1;
    },
    pick(ids, tags) {
      const lons = new Int32Array(ids.length).fill(UNSET);
      const lats = new Int32Array(ids.length);
      const seek = ascending ? seekForward(ids) : seekAnywhere(ids);
      for (let index = 0; index < count; index += 1) {
        const block = blocks[Math.floor(index / BLOCK)] as Block;
        const at = index % BLOCK;
        const slot = seek(block.ids[at] as number);
        if (slot < 0) continue;
        lons[slot] = block.lons[at] as number;
        lats[slot] = block.lats[at] as number;
      }
      return toNodes(ids, lons, lats, tags);
    },
  };
}

function checkPosition(id: number, lon: number, lat: number): void {
  if (lon >= -180 && lon <= 180 && lat >= -90 && lat <= 90) return;
  throw new RefusalError('input-coordinates', { where: `node/${id}: ${lat}, ${lon}` });
}

function makeBlock(): Block {
  return { ids: new Float64Array(BLOCK), lons: new Int32Array(BLOCK), lats: new Int32Array(BLOCK) };
}

/** For a sorted file, as nearly all are: one pass over both lists. */
function seekForward(ids: Float64Array): (id: number) => number {
  let at = 0;
  return (id) => {
    while (at < ids.length && (ids[at] as number) < id) at += 1;
    return ids[at] === id ? at : -1;
  };
}

function seekAnywhere(ids: Float64Array): (id: number) => number {
  return (id) => {
    let low = 0;
    let high = ids.length;
    while (low < high) {
      const middle = (low + high) >>> 1;
      if ((ids[middle] as number) < id) low = middle + 1;
      else high = middle;
    }
    return ids[low] === id ? low : -1;
  };
}

function toNodes(
  ids: Float64Array,
  lons: Int32Array,
  lats: Int32Array,
  tagsById: ReadonlyMap<number, Tags>,
): OsmNode[] {
  const nodes: OsmNode[] = [];
  for (let index = 0; index < ids.length; index += 1) {
    if (lons[index] === UNSET) continue;
    const id = ids[index] as number;
    const lon = (lons[index] as number) / UNIT;
    const lat = (lats[index] as number) / UNIT;
    const tags = tagsById.get(id);
    nodes.push(tags === undefined ? { id, lon, lat } : { id, lon, lat, tags });
  }
  return nodes;
}

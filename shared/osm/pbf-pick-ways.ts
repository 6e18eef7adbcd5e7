import { RefusalError } from '../outcome/refusal.ts';
import { type BlockStrings, HOUSE_KEY, ROOF_KEY, WAY_KEY } from './block-strings.ts';
import { checkSize, MAX_WAY_NODES } from './check-size.ts';
import { DeltaList } from './delta-list.ts';
import { ElementFields } from './element-fields.ts';
import { AscendingIds, IdFinder, type IdRanges } from './id-ranges.ts';
import { wantsAnywhere, wantsWay } from './keep.ts';
import { makeFrameReader } from './pbf-frame.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WayBatch } from './way-batch.ts';

/**
 * What the second pass takes out of one block, in few flat arrays, because objects are slow to send to another
 * thread; `outlines` bound areas, but are not near a tunnel themselves.
 */
export type PickedWays = {
  readonly ids: Float64Array;
  /** Nodes of all ways, one after the other, and how many each way has. */
  readonly nodes: Float64Array;
  readonly nodeCounts: Float64Array;
  /** Numbers in `texts`, key and value by turns, and how many tags each way has. */
  readonly tags: Float64Array;
  readonly tagCounts: Float64Array;
  readonly texts: readonly string[];
  readonly outlines: readonly Outline[];
};
/** A way's nodes as the file writes them, differences in few bytes. */
export type Outline = { readonly id: number; readonly bytes: Uint8Array };

const MAX_ID = 2 ** 51;

/**
 * Makes the reader of the second pass: the ways that are kept for their tags and have a node in `near`, ways that
 * the report must mention wherever they are, and the `outlines` (ascending way ids)
 * that are no houses. Refuses 'input-damaged'; throws
 * UnusualPbf for ways that carry the positions of their nodes along.
 */
export function makeWayPicker(near: IdRanges, outlines: Float64Array): (bytes: Uint8Array) => PickedWays {
  const readFrame = makeFrameReader();
  const fields = new ElementFields();
  const refs = new DeltaList();
  const isNear = new IdFinder(near);
  const picked = new WayBatch();
  return (bytes) => {
    const frame = readFrame(bytes);
    const { strings, ways } = frame;
    const spare: Outline[] = [];
    const outline = new AscendingIds(outlines);
    picked.clear();
    for (let index = 0; index < ways.count; index += 1) {
      const from = ways.from[index] as number;
      const end = ways.end[index] as number;
      fields.readHead(bytes, from, end, strings);
      const { id } = fields;
      const bounds = (fields.keyBits & HOUSE_KEY) === 0 && outline.has(id);
      if (!bounds && (fields.keyBits & WAY_KEY) === 0) continue;
      fields.read(bytes, from, end);
      if (!fields.isEmpty(9) || !fields.isEmpty(10)) throw new UnusualPbf();
      refs.read(frame.view, fields.from[8] as number, fields.end[8] as number);
      const isClose = isNear.hasAny(refs.items, refs.count);
      const reason = whyWanted(fields, strings, isClose);
      if (reason === 'anywhere' || (isClose && (reason === 'near' || bounds))) {
        checkNodes(refs, id);
        picked.add(id, refs.items, refs.count);
        if (reason !== 'no') picked.addTags(fields, strings);
      } else if (bounds) spare.push({ id, bytes: bytes.slice(fields.from[8], fields.end[8]) });
    }
    return picked.toPicked(spare);
  };
}

type Reason = 'no' | 'near' | 'anywhere';

/** Why a way is kept for its tags, which are looked at only where that can matter. */
function whyWanted(fields: ElementFields, strings: BlockStrings, isClose: boolean): Reason {
  const hasRoof = (fields.keyBits & ROOF_KEY) !== 0;
  if ((fields.keyBits & WAY_KEY) === 0 || !(isClose || hasRoof)) return 'no';
  // The common case, without making an object: a road in the open.
  if (!hasRoof && fields.isRoad(strings)) return 'near';
  const tags = fields.readTags(strings, WAY_KEY | ROOF_KEY);
  if (!wantsWay(tags)) return 'no';
  return wantsAnywhere(tags) ? 'anywhere' : 'near';
}

/** An outline's nodes as numbers. */
export function toOutlineNodes({ id, bytes }: Outline): number[] {
  const refs = new DeltaList();
  refs.read(new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength), 0, bytes.length);
  checkNodes(refs, id);
  return Array.from(refs.items.subarray(0, refs.count));
}

function checkNodes({ items, count }: DeltaList, way: number): void {
  checkSize(count, MAX_WAY_NODES, 'nodes in one way');
  for (let index = 0; index < count; index += 1) {
    const node = items[index] as number;
    if (Math.abs(node) <= MAX_ID) continue;
    throw new RefusalError('input-damaged', { where: `way/${way}, node id ${node}` });
  }
}

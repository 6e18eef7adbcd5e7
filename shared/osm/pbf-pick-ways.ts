import { RefusalError } from '../outcome/refusal.ts';
import { type BlockStrings, ROOF_KEY, WAY_KEY } from './block-strings.ts';
import { checkSize, MAX_WAY_NODES } from './check-size.ts';
import { decodeDeltas } from './decode-deltas.ts';
import { ElementFields } from './element-fields.ts';
import { findFirstAbove, IdFinder, type IdRanges } from './id-ranges.ts';
import { wantsAnywhere, wantsWay } from './keep.ts';
import { readBlockFrame, visitBlock } from './pbf-frame.ts';
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
 * the report must mention wherever they are, and the `outlines` (ascending way ids). Refuses 'input-damaged'; throws
 * UnusualPbf for ways that carry the positions of their nodes along.
 */
export function makeWayPicker(near: IdRanges, outlines: Float64Array): (bytes: Uint8Array) => PickedWays {
  const fields = new ElementFields();
  const isNear = new IdFinder(near);
  const picked = new WayBatch();
  let refs = new Float64Array(1 << 12);
  return (bytes) => {
    const frame = readBlockFrame(bytes);
    const { strings } = frame;
    const spare: Outline[] = [];
    let nextOutline = -1;
    picked.clear();
    visitBlock(frame, {
      way(from, end) {
        fields.read(bytes, from, end);
        if (!fields.isEmpty(9) || !fields.isEmpty(10)) throw new UnusualPbf();
        const { id } = fields;
        if (nextOutline < 0) nextOutline = findFirstAbove(outlines, id - 1);
        while ((outlines[nextOutline] as number) < id) nextOutline += 1;
        const bounds = outlines[nextOutline] === id;
        const reason = whyWanted(fields, strings);
        if (reason === 'no' && !bounds) return;
        const start = fields.from[8] as number;
        const size = (fields.end[8] as number) - start;
        if (size > refs.length) refs = new Float64Array(2 * size);
        const count = decodeDeltas(frame.view, start, start + size, refs);
        if (reason === 'anywhere' || isNear.hasAny(refs, count)) {
          checkNodes(refs, count, id);
          picked.add(id, refs, count);
          if (reason !== 'no') picked.addTags(fields, strings);
        } else if (bounds) spare.push({ id, bytes: bytes.slice(start, start + size) });
      },
    });
    return picked.toPicked(spare);
  };
}

function whyWanted(fields: ElementFields, strings: BlockStrings): 'no' | 'near' | 'anywhere' {
  fields.readKeys(strings);
  if ((fields.keyBits & WAY_KEY) === 0) return 'no';
  // The common case, without making an object: a road in the open.
  if ((fields.keyBits & ROOF_KEY) === 0 && fields.isRoad(strings)) return 'near';
  const tags = fields.readTags(strings, WAY_KEY | ROOF_KEY);
  if (!wantsWay(tags)) return 'no';
  return wantsAnywhere(tags) ? 'anywhere' : 'near';
}

/** An outline's nodes as numbers. */
export function toOutlineNodes({ id, bytes }: Outline): number[] {
  const refs = new Float64Array(bytes.length);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const count = decodeDeltas(view, 0, bytes.length, refs);
  checkNodes(refs, count, id);
  return Array.from(refs.subarray(0, count));
}

function checkNodes(refs: Float64Array, count: number, way: number): void {
  checkSize(count, MAX_WAY_NODES, 'nodes in one way');
  for (let index = 0; index < count; index += 1) {
    const node = refs[index] as number;
    if (Math.abs(node) <= MAX_ID) continue;
    throw new RefusalError('input-damaged', { where: `way/${way}, node id ${node}` });
  }
}

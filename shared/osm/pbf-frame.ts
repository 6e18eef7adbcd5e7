import { RefusalError } from '../outcome/refusal.ts';
import { BlockStrings } from './block-strings.ts';
import { SpanList } from './span-list.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WireCursor } from './wire-cursor.ts';

/** One data block as far as it is read before its elements are; the lists serve again for the next block. */
export type BlockFrame = {
  readonly bytes: Uint8Array;
  /** Over the same bytes. */
  readonly view: DataView;
  readonly strings: BlockStrings;
  /** The field of the texts, as it stands in the block. */
  readonly texts: Uint8Array;
  /** Positions are `offset + granularity × value`, in 1e-9 degrees. */
  readonly granularity: number;
  readonly latOffset: number;
  readonly lonOffset: number;
  /** Where the messages stand: of runs of nodes, of each way, of each relation. */
  readonly nodes: SpanList;
  readonly ways: SpanList;
  readonly relations: SpanList;
};

type Spans = Pick<BlockFrame, 'nodes' | 'ways' | 'relations'>;

/* What a group holds: field numbers with wire types. */
const NODE = 10;
const NODES = 18;
const WAY = 26;
const RELATION = 34;
const CHANGESET = 42;

/**
 * Makes the reader of a block's texts and scale that also finds its elements. It throws UnusualPbf for nodes one by
 * one, and refuses 'input-damaged'.
 */
export function makeFrameReader(): (bytes: Uint8Array) => BlockFrame {
  const spans = { nodes: new SpanList(), ways: new SpanList(), relations: new SpanList() };
  return (bytes) => {
    const cursor = new WireCursor(bytes);
    let strings = new WireCursor(bytes, 0, 0);
    let texts = bytes.subarray(0, 0);
    let granularity = 100;
    let latOffset = 0;
    let lonOffset = 0;
    spans.nodes.count = spans.ways.count = spans.relations.count = 0;
    while (!cursor.done) {
      const start = cursor.at;
      const tag = cursor.readUnsigned();
      if (tag === 10) {
        strings = cursor.readMessage();
        texts = bytes.subarray(start, cursor.at);
      } else if (tag === 18) listElements(cursor.readMessage(), spans);
      else if (tag === 136) granularity = cursor.readSigned();
      else if (tag === 152) latOffset = cursor.readSigned();
      else if (tag === 160) lonOffset = cursor.readSigned();
      else cursor.skip(tag);
    }
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    return {
      bytes,
      view,
      strings: new BlockStrings(strings),
      texts,
      granularity,
      latOffset,
      lonOffset,
      ...spans,
    };
  };
}

/** Lists the elements of one group. */
function listElements(cursor: WireCursor, { nodes, ways, relations }: Spans): void {
  const { bytes, end } = cursor;
  while (cursor.at < end) {
    const start = cursor.at;
    const length = bytes[start + 1] as number;
    if (bytes[start] === WAY && length < 128) {
      // A way of a few nodes, as nearly all elements are.
      const from = start + 2;
      if (from + length > end) throw new RefusalError('input-damaged');
      ways.add(start, from, from + length);
      cursor.at = from + length;
      continue;
    }
    const tag = cursor.readUnsigned();
    if (tag === CHANGESET) {
      throw new RefusalError('input-damaged', { where: 'changesets instead of map data' });
    }
    if (tag === NODE) throw new UnusualPbf();
    if (tag !== NODES && tag !== WAY && tag !== RELATION) {
      cursor.skip(tag);
      continue;
    }
    const from = cursor.skipBytes();
    (tag === NODES ? nodes : tag === WAY ? ways : relations).add(start, from, cursor.at);
  }
}

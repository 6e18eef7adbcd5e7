import { RefusalError } from '../outcome/refusal.ts';
import { BlockStrings } from './block-strings.ts';
import { UnusualPbf } from './unusual-pbf.ts';
import { WireCursor } from './wire-cursor.ts';

/** One data block as far as it is read before its elements are. */
export type BlockFrame = {
  readonly bytes: Uint8Array;
  /** Over the same bytes. */
  readonly view: DataView;
  readonly strings: BlockStrings;
  /** Positions are `offset + granularity × value`, in 1e-9 degrees. */
  readonly granularity: number;
  readonly latOffset: number;
  readonly lonOffset: number;
};

/** What is done with the elements of a block: where each one's message starts and ends. */
export type BlockVisitor = {
  nodes?(from: number, end: number): void;
  way?(from: number, end: number): void;
  relation?(from: number, end: number): void;
};

/** Reads a block's texts and scale. Refuses 'input-damaged'. */
export function readBlockFrame(bytes: Uint8Array): BlockFrame {
  const cursor = new WireCursor(bytes);
  let strings = new WireCursor(bytes, 0, 0);
  let granularity = 100;
  let latOffset = 0;
  let lonOffset = 0;
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag === 10) strings = cursor.readMessage();
    else if (tag === 136) granularity = cursor.readSigned();
    else if (tag === 152) latOffset = cursor.readSigned();
    else if (tag === 160) lonOffset = cursor.readSigned();
    else cursor.skip(tag);
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  return { bytes, view, strings: new BlockStrings(strings), granularity, latOffset, lonOffset };
}

/** Hands each element's place to the visitor, in the order of the file. Throws UnusualPbf for nodes one by one. */
export function visitBlock({ bytes }: BlockFrame, visitor: BlockVisitor): void {
  const cursor = new WireCursor(bytes);
  while (!cursor.done) {
    const tag = cursor.readUnsigned();
    if (tag !== 18) {
      cursor.skip(tag);
      continue;
    }
    const from = cursor.skipBytes();
    visitGroup(new WireCursor(bytes, from, cursor.at), visitor);
  }
}

function visitGroup(cursor: WireCursor, visitor: BlockVisitor): void {
  const { bytes, end } = cursor;
  while (cursor.at < end) {
    const tag = bytes[cursor.at] as number;
    const length = bytes[cursor.at + 1] as number;
    if (tag === 26 && length < 128) {
      const from = cursor.at + 2;
      if (from + length > end) throw new RefusalError('input-damaged');
      cursor.at = from + length;
      visitor.way?.(from, from + length);
    } else visitOther(cursor, visitor);
  }
}

/** Everything that is not a way of a few nodes. */
function visitOther(cursor: WireCursor, visitor: BlockVisitor): void {
  const tag = cursor.readUnsigned();
  if (tag === 10) throw new UnusualPbf();
  if (tag === 42) throw new RefusalError('input-damaged', { where: 'changesets instead of map data' });
  if (tag !== 18 && tag !== 26 && tag !== 34) {
    cursor.skip(tag);
    return;
  }
  const from = cursor.skipBytes();
  if (tag === 26) visitor.way?.(from, cursor.at);
  else if (tag === 18) visitor.nodes?.(from, cursor.at);
  else visitor.relation?.(from, cursor.at);
}

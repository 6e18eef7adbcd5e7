import type { NumberList } from './number-list.ts';
import type { BlockFrame } from './pbf-frame.ts';

/** Gives memory of so many bytes, or none where there is no more. */
export type Allocate = (size: number) => Uint8Array | undefined;

/** A group's tag: its field number with the wire type. */
const GROUP = 18;

/**
 * Writes a block again with its texts and one group of those messages that stand in `runs` (starts and ends by turns),
 * which must be elements of that block, tags included. Undefined where there is no memory for it.
 */
export function shrinkBlock(
  { bytes, texts }: BlockFrame,
  runs: NumberList,
  allocate: Allocate,
): Uint8Array | undefined {
  const { items, count } = runs;
  let size = 0;
  for (let run = 0; run < count; run += 2) size += (items[run + 1] as number) - (items[run] as number);
  const head = [GROUP, ...toVarint(size)];
  const block = allocate(texts.length + head.length + size);
  if (block === undefined) return undefined;
  block.set(texts);
  block.set(head, texts.length);
  let at = texts.length + head.length;
  for (let run = 0; run < count; run += 2) {
    const part = bytes.subarray(items[run], items[run + 1]);
    block.set(part, at);
    at += part.length;
  }
  return block;
}

function toVarint(value: number): number[] {
  return value < 128 ? [value] : [(value & 127) | 128, ...toVarint(value >>> 7)];
}

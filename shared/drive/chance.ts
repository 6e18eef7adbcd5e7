/**
 * Numbers by chance that are counted and not drawn in turn: the one numbered `index` of a key is always the same, so
 * that what one beacon or drive meets does not hang on how many others there are, or in which order.
 */
export function chanceOf(key: number, index: number): number {
  return ((mix(key + Math.imul(index + 1, GOLDEN)) >>> 0) + 0.5) / 2 ** 32;
}

/** A key of two keys, 32 bits. */
export function joinKeys(a: number, b: number): number {
  return mix(Math.imul(a, GOLDEN) ^ mix(b));
}

/** The key of a text, such as an id: FNV-1a over its characters, mixed. */
export function keyOfText(text: string): number {
  let hash = 0x811c9dc5;
  for (let i = 0; i < text.length; i += 1) hash = Math.imul(hash ^ text.charCodeAt(i), 0x01000193);
  return mix(hash);
}

const GOLDEN = 0x9e3779b1;

/** Spreads every bit over all 32: two rounds of shift and multiply. */
function mix(value: number): number {
  let mixed = value | 0;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x7feb352d);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x846ca68b);
  return mixed ^ (mixed >>> 16);
}

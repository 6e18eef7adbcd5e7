const QUOTE = 0x22;
const COMMA = 0x2c;
const OPEN_OBJECT = 0x7b;
const CLOSE_OBJECT = 0x7d;

/** Long enough that parsing pays, short enough that the objects are gone before they cost anything. */
const RUN_BYTES = 2 ** 16;
/** `"type": "relation"` and some spaces. */
const MAX_TYPE_BYTES = 40;
const TYPE = bytesOf('"type"');
const ID = bytesOf('"id"');

const strict = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

/** The elements between a place and `end`, or none where they must be read one by one up to there. */
export type Run = { readonly elements: readonly object[] | undefined; readonly end: number };

/**
 * Parses many elements of a list at once: from the one that begins `at` this place of a chunk to the last that ends
 * there within 64 kB. Where the next one begins is guessed from how Overpass writes (`"type"`, then `"id"`); a wrong
 * guess, as any damage, is no list of objects, and then nothing is said.
 */
export function parseRun(chunk: Uint8Array, at: number): Run {
  const limit = Math.min(chunk.length, at + RUN_BYTES);
  const end = findLastEnd(chunk, at, limit);
  if (end === undefined) return { elements: undefined, end: limit };
  try {
    const elements: unknown[] = JSON.parse(`[${strict.decode(chunk.subarray(at, end))}]`);
    return { elements: elements.every(isObject) ? elements : undefined, end };
  } catch {
    return { elements: undefined, end };
  }
}

function isObject(value: unknown): value is object {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Where the element before the last one that begins in this part ends. */
function findLastEnd(chunk: Uint8Array, from: number, limit: number): number | undefined {
  for (let at = limit - 1; at > from; at -= 1) {
    if (chunk[at] !== OPEN_OBJECT || !isStart(chunk, at)) continue;
    const comma = skipSpaceBack(chunk, at - 1);
    const close = chunk[comma] === COMMA ? skipSpaceBack(chunk, comma - 1) : -1;
    if (close > from && chunk[close] === CLOSE_OBJECT) return close + 1;
  }
  return undefined;
}

/** `{"type":"node","id"`, with spaces or without; members of a relation have no `id`. */
function isStart(chunk: Uint8Array, brace: number): boolean {
  const key = skipSpace(chunk, brace + 1);
  if (!hasBytes(chunk, key, TYPE)) return false;
  let comma = key;
  while (comma < key + MAX_TYPE_BYTES && chunk[comma] !== COMMA) comma += 1;
  return chunk[skipSpaceBack(chunk, comma - 1)] === QUOTE && hasBytes(chunk, skipSpace(chunk, comma + 1), ID);
}

function hasBytes(chunk: Uint8Array, at: number, bytes: readonly number[]): boolean {
  return bytes.every((byte, index) => chunk[at + index] === byte);
}

function skipSpace(chunk: Uint8Array, from: number): number {
  let at = from;
  while (isSpace(chunk[at])) at += 1;
  return at;
}

function skipSpaceBack(chunk: Uint8Array, from: number): number {
  let at = from;
  while (isSpace(chunk[at])) at -= 1;
  return at;
}

function isSpace(byte: number | undefined): boolean {
  return byte === 0x20 || byte === 0x0a || byte === 0x0d || byte === 0x09;
}

function bytesOf(text: string): readonly number[] {
  return [...text].map((letter) => letter.charCodeAt(0));
}

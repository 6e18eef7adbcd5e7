/** What a file's first bytes say it is, after decompression. */
export type Format = 'pbf' | 'xml' | 'json' | 'html' | 'unknown';

/** How many bytes the decision needs at most. */
export const FORMAT_BYTES = 4096;

/** Decides by content, never by name: `head` is the start of the file, all of it if it is shorter than 4 KiB. */
export function findFormat(head: Uint8Array): Format {
  if (isPbf(head)) return 'pbf';
  // UTF-16 with or without its mark, and anything binary.
  if (head.includes(0)) return 'unknown';
  // A byte that is not UTF-8 does not matter here; the decoder finds it with its place.
  const text = new TextDecoder().decode(head).trimStart();
  if (text.startsWith('{')) return 'json';
  if (!text.startsWith('<')) return 'unknown';
  return /^<(?:!doctype\s+html|html)\b/i.test(skipProlog(text)) ? 'html' : 'xml';
}

/** From the first tag on: an XML declaration and comments may stand before it. */
function skipProlog(text: string): string {
  const end = text.startsWith('<?') ? '?>' : text.startsWith('<!--') ? '-->' : undefined;
  if (end === undefined) return text;
  const at = text.indexOf(end);
  return at < 0 ? '' : skipProlog(text.slice(at + end.length).trimStart());
}

/** A four-byte length, then a header that names the first block. */
function isPbf(head: Uint8Array): boolean {
  if (head[0] !== 0 || (head[1] ?? 0) !== 0) return false;
  const text = String.fromCharCode(...head.subarray(0, 64));
  return text.includes('OSMHeader') || text.includes('OSMData') || head.length < 16;
}

/** A digest of a text: two FNV-1a hashes of 32 bits, the second from another start, as 16 hexadecimal digits. */
export function digest(text: string): string {
  return toHex(fnv1a(text, 0x811c9dc5)) + toHex(fnv1a(text, 0x5bd1e995));
}

function fnv1a(text: string, start: number): number {
  let hash = start;
  for (let i = 0; i < text.length; i += 1) {
    hash ^= text.charCodeAt(i);
    hash = Math.imul(hash, 0x01000193);
  }
  return hash >>> 0;
}

function toHex(hash: number): string {
  return hash.toString(16).padStart(8, '0');
}

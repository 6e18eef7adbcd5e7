import { inflateSync } from 'node:zlib';

/** Unpacks zlib data of which `rawSize` bytes come out, in one buffer of that size; throws where there are more. */
export function inflate(bytes: Uint8Array, rawSize: number): Uint8Array {
  return inflateSync(bytes, { chunkSize: Math.max(rawSize, 64), maxOutputLength: Math.max(rawSize, 1) });
}

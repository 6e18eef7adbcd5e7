import { inflateSync } from 'node:zlib';

/** Unpacks zlib data of which `rawSize` bytes come out, in one buffer of that size; throws where there are more. */
export function inflate(bytes: Uint8Array, rawSize: number): Uint8Array {
  const { buffer, byteOffset, length } = inflateSync(bytes, {
    chunkSize: Math.max(rawSize, 64),
    maxOutputLength: Math.max(rawSize, 1),
  });
  // No Buffer: loops that meet two kinds of arrays are compiled twice, and slower.
  return new Uint8Array(buffer, byteOffset, length);
}

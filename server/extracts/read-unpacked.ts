import { pipeline } from 'node:stream';
import { createGunzip } from 'node:zlib';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { peek } from './read-peek.ts';

/** Map data pack to about a twentieth; a file that unpacks to this many times its size was made to harm. */
const MAX_RATIO = 300;
const RATIO_FROM_BYTES = 32 * 2 ** 20;
const CHUNK_BYTES = 1 << 16;

/**
 * The bytes of a file that may be packed with gzip or bzip2, decided by its first bytes. Refuses 'input-truncated'
 * and 'input-damaged' for what cannot be unpacked, 'input-expands-too-far', and 'input-too-large' beyond `maxBytes`.
 */
export async function* readUnpacked(
  source: AsyncIterable<Uint8Array>,
  maxBytes: number,
): AsyncGenerator<Uint8Array> {
  let packedBytes = 0;
  let bytes = 0;
  const counted = count(source, (length) => {
    packedBytes += length;
  });
  const { head, all } = await peek(counted, 4);
  for await (const chunk of await unpack(head, all)) {
    bytes += chunk.length;
    if (bytes > maxBytes) throw new RefusalError('input-too-large', { limit: `${maxBytes / 2 ** 30} GB` });
    if (bytes > RATIO_FROM_BYTES && bytes > MAX_RATIO * packedBytes) {
      throw new RefusalError('input-expands-too-far', { limit: MAX_RATIO });
    }
    yield chunk;
  }
}

async function unpack(head: Uint8Array, all: AsyncIterable<Uint8Array>): Promise<AsyncIterable<Uint8Array>> {
  if (head[0] === 0x1f && head[1] === 0x8b) return readGzip(all);
  if (head[0] === 0x42 && head[1] === 0x5a && head[2] === 0x68) {
    // Loaded when it is needed, as few files are packed so.
    return (await import('./read-bzip2.ts')).readBzip2(all);
  }
  return all;
}

/** Several members one after the other are one file; Node's own decoder joins them. */
async function* readGzip(source: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  const gunzip = createGunzip({ chunkSize: CHUNK_BYTES });
  // Errors of either side end the loop below; the callback only keeps them from being thrown a second time.
  pipeline(source, gunzip, () => {});
  try {
    for await (const chunk of gunzip) yield chunk as Uint8Array;
  } catch (error) {
    throw toRefusal(error);
  }
}

function toRefusal(error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  if (code === 'Z_BUF_ERROR') return new RefusalError('input-truncated', { where: 'in gzip data' });
  return code.startsWith('Z_') ? new RefusalError('input-damaged', { where: 'gzip compression' }) : error;
}

async function* count(
  source: AsyncIterable<Uint8Array>,
  onBytes: (length: number) => void,
): AsyncGenerator<Uint8Array> {
  for await (const chunk of source) {
    onBytes(chunk.length);
    yield chunk;
  }
}

import { setImmediate } from 'node:timers/promises';
import { toHeader, toHeaderSize } from '../../shared/osm/pbf-blobs.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { readAt } from './read-at.ts';

/** Where the blobs of a PBF file are: `number` counts from 1, `offset` and `size` are of the content. */
export type BlobPlace = {
  readonly number: number;
  readonly type: string;
  readonly offset: number;
  readonly size: number;
};

/** A blob's length and header are shorter than this, unless it carries an index. */
const HEAD_BYTES = 64;
const PAUSE_EVERY = 1_000;

/**
 * Lists the blobs of an open PBF file by their headers, without reading what is in them. Refuses 'input-damaged' and
 * 'input-truncated' with the blob's number, and 'job-cancelled'.
 */
export async function readBlobIndex(file: number, size: number, signal?: AbortSignal): Promise<BlobPlace[]> {
  const blobs: BlobPlace[] = [];
  const head = new Uint8Array(HEAD_BYTES);
  let at = 0;
  while (at < size) {
    const number = blobs.length + 1;
    if (number % PAUSE_EVERY === 0) await setImmediate();
    if (signal?.aborted) throw new RefusalError('job-cancelled');
    if (at + 4 > size) throw truncated(number);
    try {
      const seen = head.subarray(0, Math.min(HEAD_BYTES, size - at));
      readAt(file, seen, at);
      const start = at + 4;
      const length = toHeaderSize(seen);
      if (start + length > size) throw truncated(number);
      let header = seen.subarray(4, 4 + length);
      if (header.length < length) {
        header = new Uint8Array(length);
        readAt(file, header, start);
      }
      const { type, size: content } = toHeader(header);
      const offset = start + length;
      if (offset + content > size) throw truncated(number);
      blobs.push({ number, type, offset, size: content });
      at = offset + content;
    } catch (error) {
      throw withPlace(error, `blob ${number}`);
    }
  }
  return blobs;
}

function truncated(number: number): RefusalError {
  return new RefusalError('input-truncated', { where: `in blob ${number}` });
}

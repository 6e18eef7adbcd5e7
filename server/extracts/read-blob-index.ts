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

const PAUSE_EVERY = 1_000;

/**
 * Lists the blobs of an open PBF file by their headers, without reading what is in them. Refuses 'input-damaged' and
 * 'input-truncated' with the blob's number, and 'job-cancelled'.
 */
export async function readBlobIndex(file: number, size: number, signal?: AbortSignal): Promise<BlobPlace[]> {
  const blobs: BlobPlace[] = [];
  const four = new Uint8Array(4);
  let at = 0;
  while (at < size) {
    const number = blobs.length + 1;
    if (number % PAUSE_EVERY === 0) await setImmediate();
    if (signal?.aborted) throw new RefusalError('job-cancelled');
    if (at + 4 > size) throw truncated(number);
    try {
      readAt(file, four, at);
      const header = new Uint8Array(toHeaderSize(four));
      if (at + 4 + header.length > size) throw truncated(number);
      readAt(file, header, at + 4);
      const { type, size: length } = toHeader(header);
      const offset = at + 4 + header.length;
      if (offset + length > size) throw truncated(number);
      blobs.push({ number, type, offset, size: length });
      at = offset + length;
    } catch (error) {
      throw withPlace(error, `blob ${number}`);
    }
  }
  return blobs;
}

function truncated(number: number): RefusalError {
  return new RefusalError('input-truncated', { where: `in blob ${number}` });
}

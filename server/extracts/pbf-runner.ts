import { unpackBlob } from '../../shared/osm/pbf-blobs.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { inflate } from './inflate.ts';
import type { Answers, Passes, PassKind } from './pbf-passes.ts';
import { readAt } from './read-at.ts';
import type { BlobPlace } from './read-blob-index.ts';

/** A blob to be read, and what is in it where that was put aside (in shared memory). */
export type BlobTask = BlobPlace & { readonly unpacked?: Uint8Array | undefined };

/** What has blobs read: in this thread (pbf-here.ts) or in others (pbf-threads.ts). */
export type PbfRunner = {
  /**
   * Has every blob read, and hands over each answer with its place in `blobs` as it comes, in any order. Throws
   * UnusualPbf and RefusalError as the passes do, and 'job-cancelled'.
   */
  run<Kind extends PassKind>(
    pass: Passes[Kind] & { readonly kind: Kind },
    blobs: readonly BlobTask[],
    onAnswer: (answer: Answers[Kind], index: number) => void,
    onBytes: (bytes: number) => void,
  ): Promise<void>;
  /** Ends what runs; nothing reads the file after that. */
  close(): Promise<void>;
};

/** Blobs that are read at once, and their packed bytes, at most. */
const BATCH = 16;
const BATCH_BYTES = 4 << 20;
/** More than stands between two blobs that follow each other: the header of the second. */
const HEADER_BYTES = 64;

/** So many blobs that a batch stays small in memory, whatever their size; small ones are read many at a time. */
export function batchOf(blobs: readonly BlobPlace[]): number {
  const largest = blobs.reduce((most, { size }) => Math.max(most, size), 1);
  return Math.min(BATCH, Math.max(1, Math.floor(BATCH_BYTES / largest)));
}

/** The packed size of these blobs, in bytes. */
export function sizeOf(blobs: readonly BlobPlace[]): number {
  return blobs.reduce((sum, { size }) => sum + size, 0);
}

/** Makes the function that reads blobs of an open file in one pass. It refuses with the blob's number. */
export function makeBatchReader<Answer>(
  file: number,
  read: (bytes: Uint8Array) => Answer,
): (blobs: readonly BlobTask[]) => Answer[] {
  const readSpans = makeSpanReader(file);
  return (blobs) => {
    const packed = readSpans(blobs.filter(({ unpacked }) => unpacked === undefined));
    let next = 0;
    return blobs.map(({ number, unpacked }) => {
      try {
        return read(unpacked ?? unpackBlob(packed[next++] as Uint8Array, inflate));
      } catch (error) {
        throw withPlace(error, `blob ${number}`);
      }
    });
  };
}

/** Makes the reader of packed bytes: blobs that follow each other in the file are read at once. */
function makeSpanReader(file: number): (blobs: readonly BlobPlace[]) => Uint8Array[] {
  let buffer = new Uint8Array(1 << 18);
  return (blobs) => {
    const size = sizeOf(blobs) + blobs.length * HEADER_BYTES;
    if (size > buffer.length) buffer = new Uint8Array(2 * size);
    const spans: Uint8Array[] = [];
    let used = 0;
    for (let index = 0; index < blobs.length; ) {
      const { offset } = blobs[index] as BlobPlace;
      let end = offset;
      let next = index;
      for (; next < blobs.length; next += 1) {
        const blob = blobs[next] as BlobPlace;
        if (next > index && blob.offset - end > HEADER_BYTES) break;
        end = blob.offset + blob.size;
      }
      const span = buffer.subarray(used, used + end - offset);
      readAt(file, span, offset);
      for (; index < next; index += 1) {
        const blob = blobs[index] as BlobPlace;
        spans.push(span.subarray(blob.offset - offset, blob.offset - offset + blob.size));
      }
      used += span.length;
    }
    return spans;
  };
}

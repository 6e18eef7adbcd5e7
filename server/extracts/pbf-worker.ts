import { parentPort, workerData } from 'node:worker_threads';
import { unpackBlob } from '../../shared/osm/pbf-blobs.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { inflate } from './inflate.ts';
import { makePass } from './pbf-passes.ts';
import type { FromWorker, ToWorker } from './pbf-threads.ts';
import { readAt } from './read-at.ts';
import type { BlobPlace } from './read-blob-index.ts';

/* The main of a thread that unpacks and reads blobs of a PBF file: batch after batch, as the threads come to them. */

const port = parentPort;
if (port === null) throw new Error('pbf-worker runs as a worker thread only');
const { file } = workerData as { file: number };
let buffer = new Uint8Array(1 << 18);
/** More than stands between two blobs that follow each other: the header of the second. */
const HEADER_BYTES = 64;

port.on('message', (message: ToWorker) => {
  try {
    work(message);
    send({ kind: 'done' });
  } catch (error) {
    if (error instanceof UnusualPbf) send({ kind: 'unusual' });
    else if (error instanceof RefusalError) send({ kind: 'refused', refusal: error.refusal });
    else throw error;
  }
});

function work({ pass, blobs, batch, next: nextBlob }: ToWorker): void {
  const read = makePass(pass);
  for (;;) {
    const first = Atomics.add(nextBlob, 0, batch);
    if (first >= blobs.length) return;
    const taken = blobs.slice(first, first + batch);
    const spans = readSpans(taken.filter(({ unpacked }) => unpacked === undefined));
    let next = 0;
    const answers = taken.map(({ number, unpacked }) => {
      try {
        return read(unpacked ?? unpackBlob(spans[next++] as Uint8Array, inflate));
      } catch (error) {
        throw withPlace(error, `blob ${number}`);
      }
    });
    const bytes = taken.reduce((sum, { size }) => sum + size, 0);
    send({ kind: 'batch', first, answers, bytes }, listBuffers(answers));
  }
}

/** The packed bytes of blobs: those that follow each other in the file are read at once. */
function readSpans(blobs: readonly BlobPlace[]): Uint8Array[] {
  const size = blobs.reduce((sum, blob) => sum + blob.size + HEADER_BYTES, 0);
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
}

/** The memory behind the arrays of numbers in these answers, which is handed over instead of copied. */
function listBuffers(answers: readonly object[]): ArrayBuffer[] {
  return answers.flatMap((answer) =>
    Object.values(answer).flatMap((part) =>
      ArrayBuffer.isView(part) && part.buffer instanceof ArrayBuffer && part.byteLength > 0
        ? [part.buffer]
        : [],
    ),
  );
}

function send(message: FromWorker, handedOver: ArrayBuffer[] = []): void {
  port?.postMessage(message, handedOver);
}

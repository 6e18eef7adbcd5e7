import { parentPort, workerData } from 'node:worker_threads';
import { unpackBlob } from '../../shared/osm/pbf-blobs.ts';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { withPlace } from '../../shared/osm/with-place.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { inflate } from './inflate.ts';
import { makePass } from './pbf-passes.ts';
import type { FromWorker, ToWorker } from './pbf-threads.ts';
import { readAt } from './read-at.ts';

/* The main of a thread that unpacks and reads blobs of a PBF file: batch after batch, as the threads come to them. */

const port = parentPort;
if (port === null) throw new Error('pbf-worker runs as a worker thread only');
const { file } = workerData as { file: number };
let buffer = new Uint8Array(1 << 18);

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

function work({ pass, blobs, batch, next }: ToWorker): void {
  const read = makePass(pass);
  for (;;) {
    const first = Atomics.add(next, 0, batch);
    if (first >= blobs.length) return;
    const taken = blobs.slice(first, first + batch);
    const answers = taken.map(({ number, offset, size }) => {
      try {
        if (size > buffer.length) buffer = new Uint8Array(2 * size);
        const packed = buffer.subarray(0, size);
        readAt(file, packed, offset);
        return read(unpackBlob(packed, inflate));
      } catch (error) {
        throw withPlace(error, `blob ${number}`);
      }
    });
    send({ kind: 'batch', first, answers, bytes: taken.reduce((sum, { size }) => sum + size, 0) });
  }
}

function send(message: FromWorker): void {
  port?.postMessage(message);
}

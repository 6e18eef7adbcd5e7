import { parentPort, workerData } from 'node:worker_threads';
import { UnusualPbf } from '../../shared/osm/unusual-pbf.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import { makePass } from './pbf-passes.ts';
import { makeBatchReader, sizeOf } from './pbf-runner.ts';
import type { FromWorker, ToWorker } from './pbf-threads.ts';

/* The main of a thread that unpacks and reads blobs of a PBF file: batch after batch, as the threads come to them. */

const port = parentPort;
if (port === null) throw new Error('pbf-worker runs as a worker thread only');
const { file } = workerData as { file: number };

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
  const read = makeBatchReader(file, makePass(pass));
  for (;;) {
    const first = Atomics.add(next, 0, batch);
    if (first >= blobs.length) return;
    const taken = blobs.slice(first, first + batch);
    const answers = read(taken);
    send({ kind: 'batch', first, answers, bytes: sizeOf(taken) }, listBuffers(answers));
  }
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

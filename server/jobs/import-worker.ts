import { parentPort, workerData } from 'node:worker_threads';
import { type ImportTask, runImport } from './import-task.ts';

/** The worker thread's own main: one import, progress and the answer as messages. */
const port = parentPort;
if (port === null) throw new Error('import-worker runs as a worker thread only');
const answer = await runImport(workerData as ImportTask, (progress) =>
  port.postMessage({ kind: 'progress', progress }),
);
port.postMessage({ kind: 'answer', answer });

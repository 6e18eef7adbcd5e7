import { parentPort, workerData } from 'node:worker_threads';
import { runImport } from './import-task.ts';
import { runRebuild } from './rebuild-task.ts';
import type { WorkerTask } from './run-in-worker.ts';

/** The worker thread's own main: one task, progress and the answer as messages. */
const port = parentPort;
if (port === null) throw new Error('task-worker runs as a worker thread only');
const work = workerData as WorkerTask;
const answer =
  work.kind === 'rebuild'
    ? await runRebuild(work.task)
    : await runImport(work.task, (progress) => port.postMessage({ kind: 'progress', progress }));
port.postMessage({ kind: 'answer', answer });

import { type MessagePort, parentPort, workerData } from 'node:worker_threads';
import type { Progress } from '../../shared/wire/survey.ts';
import { runCompare } from './compare-task.ts';
import { runDrives } from './drive-task.ts';
import { runImport } from './import-task.ts';
import { runRebuild } from './rebuild-task.ts';
import type { WorkerTask } from './run-in-worker.ts';

/** The worker thread's own main: one task, progress and the answer as messages. */
const port = parentPort;
if (port === null) throw new Error('task-worker runs as a worker thread only');
const work = workerData as WorkerTask;
port.postMessage({ kind: 'answer', answer: await run(work, port) });

function run({ kind, task }: WorkerTask, told: MessagePort): unknown {
  const report = (progress: Progress) => told.postMessage({ kind: 'progress', progress });
  switch (kind) {
    case 'compare':
      return runCompare(task);
    case 'rebuild':
      return runRebuild(task);
    case 'import':
      return runImport(task, report);
    case 'drives':
      return runDrives(task, report);
  }
}

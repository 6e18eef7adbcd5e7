import { parentPort, workerData } from 'node:worker_threads';
import loadHighs from 'highs';
import { planProgramme } from '../../shared/ranking/programme.ts';
import type { PlanTask } from './plan-in-thread.ts';

/** The thread's own main: one programme, one answer. */
const port = parentPort;
if (port === null) throw new Error('plan-thread runs as a worker thread only');
const { input, timeLimitS } = workerData as PlanTask;
port.postMessage(planProgramme(input, await loadHighs(), { timeLimitS }));

import { parentPort, workerData } from 'node:worker_threads';
import loadHighs from 'highs';
import { solveFewest } from '../../shared/placement/fewest/solve-fewest.ts';
import type { SolveTask } from './solve-in-thread.ts';

/** The solver thread's own main: one question, one answer. */
const port = parentPort;
if (port === null) throw new Error('solve-thread runs as a worker thread only');
const { question, rules, timeLimitS } = workerData as SolveTask;
port.postMessage(solveFewest(question, rules, await loadHighs(), { timeLimitS }));

import type { JobRows } from '../store/job-rows.ts';
import type { JobQueue } from './job-queue.ts';
import type { Uploads } from './uploads.ts';

/** Where jobs are kept and how they are handed out; part of every Store. */
export type JobStore = {
  readonly rows: JobRows;
  readonly uploads: Uploads;
  readonly queue: JobQueue;
  /** Whether other servers and workers do jobs of the same store. */
  readonly isShared: boolean;
};

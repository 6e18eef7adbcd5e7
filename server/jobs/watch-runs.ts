import type { JobRows } from '../store/job-rows.ts';
import type { Run } from './job.ts';

/** How jobs that nobody does any more are found. */
export type RunWatch = {
  /** Looks once; answers the runs that have not beaten for as long as this process has seen them be silent. */
  look(): Promise<readonly Run[]>;
};

/** The time is this process's own: clocks of several machines differ. */
export function createRunWatch(rows: JobRows, silentMs: number): RunWatch {
  let seen = new Map<string, { readonly beats: number; readonly since: number }>();
  return {
    async look() {
      const runs = await rows.listRuns();
      const now = performance.now();
      const silent: Run[] = [];
      const seenNow: typeof seen = new Map();
      for (const run of runs) {
        const before = seen.get(run.runner);
        const since = before?.beats === run.beats ? before.since : now;
        seenNow.set(run.runner, { beats: run.beats, since });
        if (now - since >= silentMs) silent.push(run);
      }
      seen = seenNow;
      return silent;
    },
  };
}

import type { Logger } from 'pino';
import type { OverpassClient } from './extracts/overpass-client.ts';
import { createJobs, type Jobs } from './jobs/jobs.ts';
import { runImportInWorker, runInWorker } from './jobs/run-in-worker.ts';
import type { Store } from './store/store.ts';
import type { RunDrives } from './surveys/do-drives.ts';
import { createPerform } from './surveys/do-job.ts';

export type StartJobsDeps = {
  readonly store: Store;
  readonly overpass: OverpassClient;
  readonly log: Logger;
  readonly jobCount?: number;
};

/** The jobs of a server or a worker, which does them in threads until they are stopped. */
export function startJobs({ store, overpass, log, jobCount = 1 }: StartJobsDeps): Jobs {
  const runDrives: RunDrives = (task, ...rest) => runInWorker<'drives'>({ kind: 'drives', task }, ...rest);
  return createJobs({
    store,
    perform: createPerform({ store, overpass, runImport: runImportInWorker, runDrives }),
    count: jobCount,
    onBug: (error) => log.error({ err: error }, 'job failed'),
  });
}

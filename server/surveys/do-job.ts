import type { Perform } from '../jobs/run-job.ts';
import { doDrives, type RunDrives } from './do-drives.ts';
import { doImport, type ImportDeps } from './do-import.ts';

export type PerformDeps = ImportDeps & { readonly runDrives: RunDrives };

/** Does whatever a job asks for. */
export function createPerform(deps: PerformDeps): Perform {
  return (job, run, report, signal) =>
    job.kind === 'import'
      ? doImport(deps, job, run, report, signal)
      : doDrives(deps.store, deps.runDrives, job, report, signal);
}

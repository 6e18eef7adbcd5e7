import { randomUUID } from 'node:crypto';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { Area } from '../../shared/wire/survey.ts';
import { whoActs } from '../acting.ts';
import { type ImportJob, isImport, type JobSource } from '../jobs/job.ts';
import type { Jobs } from '../jobs/jobs.ts';
import { type ImportDeps, toRecord } from './do-import.ts';

export type StartDeps = Pick<ImportDeps, 'store' | 'runImport'> & {
  readonly jobs: Jobs;
  readonly now: () => Date;
};

/** A file that was sent; it is taken over. */
export type Upload = { readonly path: string; readonly name: string };

/** They are done one after the other, and each waits with its file. */
const MOST_IMPORTS = 20;

/** How imports are begun: most wait for their turn. A newer extract is for the survey `forSurvey`. */
export type Imports = {
  /** Refused as `imports-too-many` where so many wait that another one had better come later. */
  checkRoom(): Promise<Result<null>>;
  readFile(upload: Upload, name: string, forSurvey?: string): Promise<ImportJob>;
  /** Asks the map server for an area; for a newer extract an answer that was kept does not do. */
  askArea(area: Area, name: string, forSurvey?: string): Promise<ImportJob>;
  /**
   * Reads a file of the program's own at once, without a turn, into the survey `id`; where there is one of that id
   * when it has been read, that one stays. Refused as readExtractFile and buildSurvey.
   */
  readOwn(file: Upload, survey: { id: string; name: string; demo: boolean }): Promise<Result<null>>;
};

export function createImports({ store, jobs, now, runImport }: StartDeps): Imports {
  const start = async (
    name: string,
    source: JobSource,
    forSurvey: string | undefined,
  ): Promise<ImportJob> => {
    const by = whoActs();
    const id = randomUUID();
    const job = await jobs.add({
      id,
      kind: 'import',
      name,
      startedAt: now().toISOString(),
      ...(forSurvey === undefined ? {} : { forSurvey }),
      ...(by === undefined ? {} : { by }),
      source,
    });
    if (!isImport(job)) throw new Error(`${id} is no import`);
    return job;
  };

  return {
    async checkRoom() {
      const waiting = (await jobs.list()).filter(
        (job) => isImport(job) && job.state.status === 'working',
      ).length;
      return waiting < MOST_IMPORTS ? done(null) : refused(refusal('imports-too-many', { waiting }));
    },

    async readFile({ path, name: fileName }, name, forSurvey) {
      const uploadId = await store.jobs.uploads.keep(path);
      return start(name, { kind: 'upload', uploadId, fileName }, forSurvey);
    },

    askArea: (area, name, forSurvey) =>
      start(name, { kind: 'area', area, newer: forSurvey !== undefined }, forSurvey),

    async readOwn(file, { id, name, demo }) {
      const startedAt = now().toISOString();
      const found = await runImport(file, () => {}, new AbortController().signal);
      if (!found.ok) return found;
      await store.saveSurvey(toRecord({ id, name, startedAt }, demo, found.value), found.value.extract);
      return done(null);
    },
  };
}

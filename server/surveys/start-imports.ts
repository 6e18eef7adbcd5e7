import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { Result } from '../../shared/outcome/result.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import type { Area } from '../../shared/wire/survey.ts';
import { buildOverpassQuery } from '../extracts/build-overpass-query.ts';
import type { OverpassClient } from '../extracts/overpass-client.ts';
import type { ImportJob, ImportJobs, Work } from '../jobs/import-jobs.ts';
import type { ImportedSurvey, ImportTask } from '../jobs/import-task.ts';
import type { Candidate, Store } from '../store/store.ts';

export type ImportDeps = {
  readonly store: Store;
  readonly jobs: ImportJobs;
  readonly overpass: OverpassClient;
  readonly now: () => Date;
  readonly runImport: (
    task: ImportTask,
    report: Parameters<Work>[0],
    signal: AbortSignal,
  ) => Promise<Result<ImportedSurvey>>;
};

/** What an import is for: a survey of its own, or a newer extract for the survey `forSurvey`. */
export type ImportTarget = { readonly id?: string; readonly demo?: boolean; readonly forSurvey?: string };

/** A file that waits to be imported; it is removed once it has been read. */
export type Upload = { readonly path: string; readonly name: string; readonly keepFile?: boolean };

export type Imports = {
  readFile(upload: Upload, name: string, target?: ImportTarget): ImportJob;
  /** Asks the map server for an area; for a newer extract an answer that was kept does not do. */
  askArea(area: Area, name: string, target?: ImportTarget): ImportJob;
};

/** Starts imports and keeps what they find. */
export function createImports(
  { store, jobs, overpass, now, runImport }: ImportDeps,
  keepCandidate: (surveyId: string, candidate: Candidate, extract: Uint8Array) => Promise<void>,
): Imports {
  const start = (name: string, work: Work, target: ImportTarget): ImportJob => {
    const startedAt = now().toISOString();
    const { id = randomUUID(), demo = false, forSurvey } = target;
    if (forSurvey !== undefined) {
      return jobs.start({ id, name, demo, startedAt, forSurvey }, work, (found) => {
        const { extractId, source, contextGzip, extract } = found;
        return keepCandidate(forSurvey, { extractId, source, contextGzip }, extract);
      });
    }
    return jobs.start({ id, name, demo, startedAt }, work, ({ extract, ...found }) => {
      const rules = rulesFor(found.network);
      const base = { id, name, demo, createdAt: startedAt, revision: 0, rules, log: [], evidence: {} };
      return store.saveSurvey({ ...base, ...found }, extract);
    });
  };

  return {
    readFile(upload, name, target = {}) {
      const work: Work = async (report, signal) => {
        try {
          return await runImport({ path: upload.path, name: upload.name }, report, signal);
        } finally {
          if (upload.keepFile !== true) await rm(upload.path, { force: true });
        }
      };
      return start(name, work, target);
    },

    askArea(area, name, target = {}) {
      const work: Work = async (report, signal) => {
        report({ stage: 'asking', done: 0 });
        const answer = await overpass.ask(buildOverpassQuery(area, NETWORK_RULES.approachM), {
          signal,
          newer: target.forSurvey !== undefined,
          onProgress: (progress) => report({ stage: 'asking', ...progress }),
        });
        if (!answer.ok) return answer;
        const path = join(tmpdir(), `boremark-${randomUUID()}.json`);
        try {
          await writeFile(path, answer.value.bytes);
          return await runImport({ path, name, area }, report, signal);
        } finally {
          await rm(path, { force: true });
        }
      };
      return start(name, work, target);
    },
  };
}

import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { rulesFor } from '../../shared/pipeline/rules-for.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { runAs } from '../acting.ts';
import { buildOverpassQuery } from '../extracts/build-overpass-query.ts';
import type { OverpassClient } from '../extracts/overpass-client.ts';
import type { ImportedSurvey, ImportTask } from '../jobs/import-task.ts';
import type { JobSource, NewImport, Run } from '../jobs/job.ts';
import type { Store, SurveyRecord } from '../store/store.ts';

export type ImportDeps = {
  readonly store: Store;
  readonly overpass: OverpassClient;
  readonly runImport: (
    task: ImportTask,
    report: (progress: Progress) => void,
    signal: AbortSignal,
  ) => Promise<Result<ImportedSurvey>>;
};

/** Does an import: from a file or a question to a survey, or to a survey's candidate, that is kept. */
export async function doImport(
  deps: ImportDeps,
  job: NewImport,
  run: Run,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<null>> {
  const { store } = deps;
  const found = await read(deps, job, report, signal);
  if (!found.ok) return found;
  if (signal.aborted) return refused(refusal('job-cancelled'));
  return runAs(job.by, async () => {
    if (job.forSurvey === undefined) {
      await store.saveSurvey(toRecord(job, false, found.value), found.value.extract, run);
    } else await keepCandidate(store, job.forSurvey, found.value);
    return done(null);
  });
}

/** A new survey as it is kept first. */
export function toRecord(
  { id, name, startedAt }: Pick<NewImport, 'id' | 'name' | 'startedAt'>,
  demo: boolean,
  { extract: _, ...found }: ImportedSurvey,
): SurveyRecord {
  const rules = rulesFor(found.network);
  return { id, name, demo, createdAt: startedAt, revision: 0, rules, log: [], evidence: {}, ...found };
}

function read(
  deps: ImportDeps,
  { name, source }: NewImport,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<ImportedSurvey>> {
  if (source.kind === 'area') return readArea(deps, name, source, report, signal);
  return deps.store.jobs.uploads.read(source.uploadId, (path) =>
    deps.runImport({ path, name: source.fileName }, report, signal),
  );
}

async function readArea(
  { overpass, runImport }: ImportDeps,
  name: string,
  { area, newer }: Extract<JobSource, { kind: 'area' }>,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<ImportedSurvey>> {
  report({ stage: 'asking', done: 0 });
  const answer = await overpass.ask(buildOverpassQuery(area, NETWORK_RULES.approachM), {
    signal,
    newer,
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
}

/** Lets the newer extract wait to be adopted; a survey that is gone has no use for it. */
async function keepCandidate(
  store: Store,
  surveyId: string,
  { extractId, source, contextGzip, extract }: ImportedSurvey,
): Promise<void> {
  for (;;) {
    const record = await store.findSurvey(surveyId);
    if (record === undefined) return;
    const candidate = { extractId, source, contextGzip };
    const { revision } = record;
    if (await store.swapSurvey(revision, { ...record, candidate, revision: revision + 1 }, { extract }))
      return;
  }
}

import { randomUUID } from 'node:crypto';
import { rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { findOrigin } from '../../shared/export/origin.ts';
import { toReport } from '../../shared/export/to-report.ts';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { DEFAULT_RULES, type Rules } from '../../shared/placement/rules.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import { listOverrides } from '../../shared/scheme/survey-log.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { LayerName } from '../../shared/wire/layers.ts';
import type { Area, ImportReport, RulePatch, SurveyView } from '../../shared/wire/survey.ts';
import { buildOverpassQuery } from '../extracts/build-overpass-query.ts';
import { checkArea } from '../extracts/check-area.ts';
import type { OverpassClient } from '../extracts/overpass-client.ts';
import type { ImportJob, ImportJobs, JobState, Work } from '../jobs/import-jobs.ts';
import type { ImportedSurvey, ImportTask } from '../jobs/import-task.ts';
import type { Candidate, Store, SurveyRecord } from '../store/store.ts';
import type { DerivedSurveys } from './derived-surveys.ts';
import { type Edit, type Edited, editScheme } from './edit-scheme.ts';
import { createRevisions, type SurveyEdit } from './revise-survey.ts';

export type SurveysDeps = {
  readonly store: Store;
  readonly derived: DerivedSurveys;
  readonly jobs: ImportJobs;
  readonly overpass: OverpassClient;
  readonly now: () => Date;
  readonly runImport: (
    task: ImportTask,
    report: Parameters<Work>[0],
    signal: AbortSignal,
  ) => Promise<Result<ImportedSurvey>>;
  readonly runRebuild: Parameters<typeof createRevisions>[1];
};

/** What an import is for. */
type ImportTarget = { readonly id?: string; readonly demo?: boolean; readonly forSurvey?: string };

/** A file that waits to be imported; it is removed once it has been read. */
export type Upload = { readonly path: string; readonly name: string; readonly keepFile?: boolean };

export type Surveys = ReturnType<typeof createSurveys>;

/** Everything that can be asked of surveys, over store, jobs and what is derived. */
export function createSurveys(deps: SurveysDeps) {
  const { store, derived, jobs } = deps;
  const revisions = createRevisions(store, deps.runRebuild);

  const get = async (id: string): Promise<Result<SurveyRecord>> => {
    const record = await store.findSurvey(id);
    return record === undefined ? refused(refusal('survey-unknown', { id })) : done(record);
  };

  /** Changes a kept survey, anew where somebody else was quicker; refused where it is gone. */
  const update = async (
    id: string,
    change: (record: SurveyRecord) => SurveyRecord,
    extra: Parameters<Store['swapSurvey']>[2] = {},
  ): Promise<Result<SurveyRecord>> => {
    for (;;) {
      const record = await get(id);
      if (!record.ok) return record;
      const { revision } = record.value;
      const changed = { ...change(record.value), revision: revision + 1 };
      if (await store.swapSurvey(revision, changed, extra)) return done(changed);
    }
  };

  const getComplex = async (
    id: string,
    complexId: string,
  ): Promise<Result<{ survey: SurveyRecord; network: ComplexNetwork }>> => {
    const survey = await get(id);
    if (!survey.ok) return survey;
    const network = derived.findNetwork(survey.value, complexId);
    if (network === undefined) return refused(refusal('complex-unknown', { id: complexId }));
    return done({ survey: survey.value, network });
  };

  /** Starts reading an extract: for a survey of its own, or as a newer one for the survey `forSurvey`. */
  const startJob = (name: string, work: Work, target: ImportTarget): SurveyView => {
    const startedAt = deps.now().toISOString();
    const { id = randomUUID(), demo = false, forSurvey } = target;
    const keepSurvey = ({ extract, ...found }: ImportedSurvey) => {
      const base = { id, name, demo, createdAt: startedAt, revision: 0, rules: DEFAULT_RULES, log: [] };
      return store.saveSurvey({ ...base, ...found }, extract);
    };
    const keepCandidate = async (surveyId: string, found: ImportedSurvey) => {
      const { extractId, source, contextGzip, extract } = found;
      const candidate = { extractId, source, contextGzip };
      await update(surveyId, (record) => ({ ...record, candidate }), { extract });
    };
    return toJobView(
      forSurvey === undefined
        ? jobs.start({ id, name, demo, startedAt }, work, keepSurvey)
        : jobs.start({ id, name, demo, startedAt, forSurvey }, work, (found) =>
            keepCandidate(forSurvey, found),
          ),
    );
  };

  const readUpload =
    (upload: Upload): Work =>
    async (report, signal) => {
      try {
        return await deps.runImport({ path: upload.path, name: upload.name }, report, signal);
      } finally {
        if (upload.keepFile !== true) await rm(upload.path, { force: true });
      }
    };

  const askArea =
    (area: Area, name: string): Work =>
    async (report, signal) => {
      report({ stage: 'asking', done: 0 });
      const answer = await deps.overpass.ask(buildOverpassQuery(area, NETWORK_RULES.approachM), {
        signal,
        onProgress: (progress) => report({ stage: 'asking', ...progress }),
      });
      if (!answer.ok) return answer;
      const path = join(tmpdir(), `boremark-${randomUUID()}.json`);
      try {
        await writeFile(path, answer.value.bytes);
        return await deps.runImport({ path, name, area }, report, signal);
      } finally {
        await rm(path, { force: true });
      }
    };

  return {
    async list(): Promise<readonly SurveyView[]> {
      const records = await store.listSurveys();
      const ready = await Promise.all(records.map((record) => toView(record, derived)));
      const imports = jobs.list().filter((job) => job.forSurvey === undefined);
      return [...imports.map(toJobView), ...ready];
    },

    async view(id: string): Promise<Result<SurveyView>> {
      const job = jobs.find(id);
      if (job !== undefined) return done(toJobView(job));
      const record = await get(id);
      return record.ok ? done(await toView(record.value, derived)) : record;
    },

    /** Starts the import of a file. */
    startUpload: (upload: Upload, name: string, target: ImportTarget = {}): SurveyView =>
      startJob(name, readUpload(upload), target),

    /** Asks the map server for an area and imports the answer. Refused at once where the area is not usable. */
    startArea(area: Area, name: string): Result<SurveyView> {
      const checked = checkArea(area);
      return checked.ok ? done(startJob(name, askArea(area, name), {})) : checked;
    },

    /** Reads a newer extract for a survey: a file, or the survey's own area asked again. */
    async startCandidate(id: string, upload: Upload | undefined): Promise<Result<SurveyView>> {
      const record = await get(id);
      if (!record.ok) {
        if (upload !== undefined) await rm(upload.path, { force: true });
        return record;
      }
      if (upload !== undefined) return done(startJob(upload.name, readUpload(upload), { forSurvey: id }));
      const { area } = record.value.source;
      if (area === undefined) {
        return refused(
          refusal('request-invalid', { reason: 'this survey came from a file: send a newer one' }),
        );
      }
      return done(startJob(record.value.name, askArea(area, record.value.name), { forSurvey: id }));
    },

    /** What adopting the newer extract would change. */
    async compare(id: string): Promise<Result<Comparison>> {
      const record = await get(id);
      return record.ok ? revisions.compare(record.value) : record;
    },

    /** Forgets the newer extract. */
    async discardCandidate(id: string): Promise<Result<null>> {
      const changed = await update(id, ({ candidate: _, ...record }) => record);
      return changed.ok ? done(null) : changed;
    },

    /** Edits the survey itself: joins or splits tunnels, adopts a newer extract. */
    async revise(id: string, edit: SurveyEdit): Promise<Result<SurveyView>> {
      const record = await get(id);
      if (!record.ok) return record;
      const revised = await revisions.revise(record.value, edit);
      return revised.ok ? done(await toView(revised.value, derived)) : revised;
    },

    /** What would be asked of the map server. */
    previewArea(area: Area): Result<{ query: string; areaKm2: number }> {
      const checked = checkArea(area);
      if (!checked.ok) return checked;
      return done({
        query: buildOverpassQuery(area, NETWORK_RULES.approachM),
        areaKm2: Math.round(checked.value.areaKm2 * 100) / 100,
      });
    },

    /** Removes a survey, or ends its import. */
    async remove(id: string): Promise<Result<null>> {
      if (jobs.cancel(id)) return done(null);
      derived.forget(id);
      return (await store.removeSurvey(id)) ? done(null) : refused(refusal('survey-unknown', { id }));
    },

    /** Changes the name or the rules that hold for every tunnel of the survey. */
    async change(id: string, patch: { name?: string | undefined; rules?: RulePatch | undefined }) {
      const changed = await update(id, (record) => ({
        ...record,
        name: patch.name ?? record.name,
        rules: { ...record.rules, ...patch.rules } as Rules,
      }));
      return changed.ok ? done(await toView(changed.value, derived)) : changed;
    },

    /** One layer's GeoJSON, gzip; `version` is another one whenever the bytes may be. */
    async layerGzip(id: string, layer: LayerName): Promise<Result<{ bytes: Uint8Array; version: string }>> {
      const record = await get(id);
      if (!record.ok) return record;
      const { createdAt, revision } = record.value;
      // The demo has one id in every run of the server: the time tells the runs apart.
      const version = `${Date.parse(createdAt)}-${revision}`;
      return done({ bytes: await derived.layerGzip(record.value, layer), version });
    },

    async files(id: string): Promise<Result<{ name: string; files: ReadonlyMap<string, string> }>> {
      const record = await get(id);
      if (!record.ok) return record;
      return done({ name: record.value.name, files: await derived.files(record.value) });
    },

    async report(id: string): Promise<Result<ImportReport>> {
      const record = await get(id);
      return record.ok
        ? done(toReport(await derived.findings(record.value), findOrigin(record.value.source)))
        : record;
    },

    /** What a browser's worker needs to design one complex itself. */
    async complex(id: string, complexId: string) {
      const found = await getComplex(id, complexId);
      if (!found.ok) return found;
      const { survey, network } = found.value;
      const scheme: Scheme =
        (await store.findScheme(id, network.complex.id)) ?? makeScheme(network.complex.id);
      return done({ network, rules: survey.rules, scheme });
    },

    edit: (id: string, complexId: string, edit: Edit): Promise<Result<Edited>> =>
      editScheme(store, () => getComplex(id, complexId), edit),

    /** Waits until an import has ended, however. */
    settled: (id: string) =>
      new Promise<void>((resolve) => {
        if (jobs.find(id) === undefined) return resolve();
        jobs.listen(id, ({ status }) => {
          if (status !== 'working') resolve();
        });
      }),

    /** Calls `listener` with the import as it stands and at every change; returns how to stop listening. */
    listen(id: string, listener: (view: SurveyView) => void): () => void {
      const job = jobs.find(id);
      return job === undefined ? () => {} : jobs.listen(id, () => listener(toJobView(job)));
    },
  };
}

function toJobView(job: ImportJob): SurveyView {
  const base = {
    id: job.id,
    name: job.name,
    demo: job.demo,
    createdAt: job.startedAt,
    revision: 0,
    rules: { ...DEFAULT_RULES },
    ...(job.forSurvey === undefined ? {} : { forSurvey: job.forSurvey }),
  };
  return { ...base, ...toStateView(job.state) };
}

function toStateView(state: JobState): Pick<SurveyView, 'status' | 'progress' | 'refusal'> {
  if (state.status !== 'refused') return state;
  const { code, context } = state.refusal;
  return {
    status: 'refused',
    refusal: { code, context: { ...context }, detail: describeRefusal(state.refusal) },
  };
}

async function toView(record: SurveyRecord, derived: DerivedSurveys): Promise<SurveyView> {
  const boxes = record.network.complexes.map((complex) => complex.bbox);
  const bbox: SurveyView['bbox'] = [
    Math.min(...boxes.map((box) => box[0])),
    Math.min(...boxes.map((box) => box[1])),
    Math.max(...boxes.map((box) => box[2])),
    Math.max(...boxes.map((box) => box[3])),
  ];
  return {
    id: record.id,
    name: record.name,
    status: 'ready',
    demo: record.demo,
    createdAt: record.createdAt,
    revision: record.revision,
    rules: { ...record.rules },
    bbox,
    counts: await derived.counts(record),
    source: { ...record.source, ...findOrigin(record.source) },
    overrides: listOverrides(record.log).map(({ commandId, kind, ways: [one, other] }) => ({
      commandId,
      kind,
      ways: [one, other] as [number, number],
    })),
    ...(record.candidate === undefined ? {} : { candidate: toCandidateView(record.candidate) }),
  };
}

function toCandidateView({ extractId, source: { name, timestamp } }: Candidate): SurveyView['candidate'] {
  return timestamp === undefined ? { extractId, name } : { extractId, name, timestamp };
}

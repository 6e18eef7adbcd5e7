import { createHash } from 'node:crypto';
import { rm } from 'node:fs/promises';
import { findOrigin } from '../../shared/export/origin.ts';
import { toReport } from '../../shared/export/to-report.ts';
import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import type { TileLayer } from '../../shared/tiles/tile-layer.ts';
import type { SurveyChange } from '../../shared/wire/changes.ts';
import type { Comparison, RevisionComparison } from '../../shared/wire/comparison.ts';
import type { HandOverPreview, HandOverRequest } from '../../shared/wire/hand-over.ts';
import type { GoBackRequest, HistoryView } from '../../shared/wire/history.ts';
import type { LayerName } from '../../shared/wire/layers.ts';
import type {
  DrivesView,
  EvidenceReport,
  ProgrammeRequest,
  ProgrammeView,
  RankingRequest,
  RankingView,
} from '../../shared/wire/ranking.ts';
import type { Area, ImportReport, RulePatch, SurveyView } from '../../shared/wire/survey.ts';
import { buildOverpassQuery } from '../extracts/build-overpass-query.ts';
import { checkArea } from '../extracts/check-area.ts';
import type { HandOverFile } from '../hand-over/make-hand-over.ts';
import { isImport } from '../jobs/job.ts';
import type { Store, SurveyRecord } from '../store/store.ts';
import type { TileAddress } from '../tiles/draw-tile.ts';
import { createTunnelTiles } from '../tiles/tunnel-tiles.ts';
import { askSurveyRanking } from './ask-survey-ranking.ts';
import type { DerivedSurveys } from './derived-surveys.ts';
import { type Edit, type Edited, editScheme } from './edit-scheme.ts';
import { type EvidenceFile, type EvidenceKind, readEvidenceFile, toEvidenceReport } from './evidence-view.ts';
import { listDrives, measureDrives } from './follow-drives.ts';
import { getSurvey } from './get-survey.ts';
import { handOverSurvey, previewHandOver } from './hand-over-survey.ts';
import { planSurvey } from './plan-survey.ts';
import { createRevisions, type SurveyEdit } from './revise-survey.ts';
import { createImports, type StartDeps, type Upload } from './start-imports.ts';
import { compareWithNow, goBack, listHistory } from './survey-history.ts';
import { toJobView, toView, withCandidateJob } from './survey-views.ts';
import { createViewMemory } from './view-memory.ts';

export type SurveysDeps = StartDeps & {
  readonly derived: DerivedSurveys;
  /** Another one for every build of the program. */
  readonly edition: string;
  readonly runRebuild: Parameters<typeof createRevisions>[1];
  readonly runCompare: Parameters<typeof compareWithNow>[1];
};

export type Surveys = ReturnType<typeof createSurveys>;

/** Everything that can be asked of surveys, over store, jobs and what is derived. */
export function createSurveys(deps: SurveysDeps) {
  const { store, derived, jobs } = deps;
  const tiles = createTunnelTiles(derived);
  const revisions = createRevisions(store, deps.runRebuild);

  const versions = new WeakMap<Uint8Array, string>();
  const versionOf = (bytes: Uint8Array): string => {
    const known = versions.get(bytes) ?? createHash('sha256').update(bytes).digest('hex').slice(0, 32);
    versions.set(bytes, known);
    return known;
  };

  const get = (id: string) => getSurvey(store, id);

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

  const imports = createImports(deps);

  const memory = createViewMemory(deps, (record) => toView(record, derived));

  const viewOf = async (record: SurveyRecord): Promise<SurveyView> =>
    withCandidateJob(await memory.tell(record), (await jobs.list()).filter(isImport));

  return {
    async list(): Promise<readonly SurveyView[]> {
      // The jobs first: what ends meanwhile is listed once as a survey, and not missed.
      const told = (await jobs.list()).filter(isImport);
      const stands = await store.listSurveys();
      const ready: SurveyView[] = [];
      for (const stand of stands) {
        const view = await memory.find(stand);
        if (view !== undefined) ready.push(withCandidateJob(view, told));
      }
      const known = new Set(stands.map(({ id }) => id));
      const working = told.filter((job) => job.forSurvey === undefined && !known.has(job.id));
      return [...working.map(toJobView), ...ready];
    },

    async view(id: string): Promise<Result<SurveyView>> {
      const job = await jobs.find(id);
      if (job !== undefined && isImport(job)) return done(toJobView(job));
      const record = await get(id);
      return record.ok ? done(await viewOf(record.value)) : record;
    },

    checkRoom: imports.checkRoom,

    readOwn: imports.readOwn,

    /** Starts the import of a file. */
    startUpload: async (upload: Upload, name: string): Promise<SurveyView> =>
      toJobView(await imports.readFile(upload, name)),

    /** Asks the map server for an area and imports the answer. Refused at once where the area is not usable. */
    async startArea(area: Area, name: string): Promise<Result<SurveyView>> {
      const checked = checkArea(area);
      return checked.ok ? done(toJobView(await imports.askArea(area, name))) : checked;
    },

    /** Reads a newer extract for a survey: a file, or the survey's own area asked again. */
    async startCandidate(id: string, upload: Upload | undefined): Promise<Result<SurveyView>> {
      const record = await get(id);
      if (!record.ok) {
        if (upload !== undefined) await rm(upload.path, { force: true });
        return record;
      }
      if (upload !== undefined) return done(toJobView(await imports.readFile(upload, upload.name, id)));
      const { area } = record.value.source;
      if (area === undefined) {
        return refused(
          refusal('request-invalid', { reason: 'this survey came from a file: send a newer one' }),
        );
      }
      return done(toJobView(await imports.askArea(area, record.value.name, id)));
    },

    /** What adopting the newer extract would change. */
    compare: (id: string): Promise<Result<Comparison>> => revisions.compare(id),

    /** Forgets the newer extract. */
    async discardCandidate(id: string): Promise<Result<null>> {
      const changed = await update(id, ({ candidate: _, ...record }) => record);
      return changed.ok ? done(null) : changed;
    },

    /** Edits the survey itself: joins or splits tunnels, adopts a newer extract. */
    async revise(id: string, edit: SurveyEdit): Promise<Result<SurveyView>> {
      const revised = await revisions.revise(id, edit);
      if (!revised.ok) return revised;
      const { record, notes } = revised.value;
      return done({ ...(await viewOf(record)), notes });
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
      if (await jobs.cancel(id)) return done(null);
      for (const job of await jobs.list()) if (job.forSurvey === id) await jobs.cancel(job.id);
      derived.forget(id);
      revisions.forget(id);
      return (await store.removeSurvey(id)) ? done(null) : refused(refusal('survey-unknown', { id }));
    },

    /** Changes the name or the rules that hold for every tunnel of the survey. */
    async change(id: string, patch: { name?: string | undefined; rules?: RulePatch | undefined }) {
      const changed = await update(id, (record) => ({
        ...record,
        name: patch.name ?? record.name,
        rules: { ...record.rules, ...patch.rules } as Rules,
      }));
      return changed.ok ? done(await viewOf(changed.value)) : changed;
    },

    /** Keeps a file of evidence in place of the one before; refused as `readEvidenceFile`. */
    async bringEvidence(id: string, kind: EvidenceKind, file: EvidenceFile): Promise<Result<SurveyView>> {
      const record = await get(id);
      if (!record.ok) return record;
      const read = readEvidenceFile(kind, file);
      if (!read.ok) return read;
      const changed = await update(id, (before) => ({
        ...before,
        evidence: { ...before.evidence, ...read.value },
      }));
      return changed.ok ? done(await viewOf(changed.value)) : changed;
    },

    /** Forgets a file of evidence; where there is none, nothing changes. */
    async removeEvidence(id: string, kind: EvidenceKind): Promise<Result<SurveyView>> {
      const record = await get(id);
      if (!record.ok) return record;
      if (record.value.evidence[kind] === undefined) return done(await viewOf(record.value));
      const changed = await update(id, (before) => {
        const { [kind]: _, ...evidence } = before.evidence;
        return { ...before, evidence };
      });
      return changed.ok ? done(await viewOf(changed.value)) : changed;
    },

    /** How far the drives of a survey are that somebody waits for. */
    async drives(id: string): Promise<Result<DrivesView>> {
      const record = await get(id);
      if (!record.ok) return record;
      return done(measureDrives(await jobs.list(), id));
    },

    /** Ends them; whoever waits for them is told so. */
    async cancelDrives(id: string): Promise<Result<null>> {
      const record = await get(id);
      if (!record.ok) return record;
      for (const job of listDrives(await jobs.list(), id)) await jobs.cancel(job.id);
      return done(null);
    },

    /** What became of each row of the files that were brought. */
    async evidence(id: string): Promise<Result<EvidenceReport>> {
      const record = await get(id);
      return record.ok
        ? done(toEvidenceReport(record.value.evidence, derived.matched(record.value)))
        : record;
    },

    /** Which tunnel first. */
    async rank(id: string, request: RankingRequest): Promise<Result<RankingView>> {
      const record = await get(id);
      return record.ok ? askSurveyRanking(record.value, derived, request) : record;
    },

    /** Which tunnels in which year; refused as `job-cancelled` where `signal` fires first. */
    async plan(id: string, request: ProgrammeRequest, signal: AbortSignal): Promise<Result<ProgrammeView>> {
      const record = await get(id);
      return record.ok ? planSurvey(record.value, derived, request, signal) : record;
    },

    /** One layer's GeoJSON, gzip; `version` is another one whenever the bytes may be. */
    async layerGzip(id: string, layer: LayerName): Promise<Result<{ bytes: Uint8Array; version: string }>> {
      const record = await get(id);
      if (!record.ok) return record;
      const bytes = await derived.layerGzip(record.value, layer);
      return done({ bytes, version: versionOf(bytes) });
    },

    /** One vector tile, gzip, and its version as that of a layer; no bytes where nothing lies in it. */
    async tileGzip(
      id: string,
      layer: TileLayer | undefined,
      address: TileAddress,
    ): Promise<Result<{ bytes: Uint8Array; version: string } | undefined>> {
      const record = await get(id);
      if (!record.ok) return record;
      const bytes = await tiles.draw(record.value, layer, address);
      return done(bytes && { bytes, version: versionOf(bytes) });
    },

    /** The file of a hand-over. */
    async handOver(id: string, request: HandOverRequest): Promise<Result<HandOverFile>> {
      const record = await get(id);
      return record.ok ? handOverSurvey(record.value, derived, request, deps.now()) : record;
    },

    /** What a hand-over of these tunnels, or of all, would hold. */
    async previewHandOver(
      id: string,
      tunnels: readonly string[] | undefined,
    ): Promise<Result<HandOverPreview>> {
      const record = await get(id);
      return record.ok ? previewHandOver(record.value, derived, tunnels) : record;
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

    /** Who did what when. */
    history: (id: string, before?: number): Promise<Result<HistoryView>> => listHistory(store, id, before),

    /** What became of a survey since one of its revisions. */
    compareWithNow: (id: string, revision: number): Promise<Result<RevisionComparison>> =>
      compareWithNow(store, deps.runCompare, id, revision),

    /** Makes a survey again what it was at a revision. */
    async goBack(id: string, revision: number, request: GoBackRequest): Promise<Result<SurveyView>> {
      const changed = await goBack(store, id, revision, request);
      if (!changed.ok) return changed;
      revisions.forget(id);
      return done(await viewOf(changed.value));
    },

    /** At which revision a survey is. */
    async revision(id: string): Promise<Result<number>> {
      const record = await get(id);
      return record.ok ? done(record.value.revision) : record;
    },

    /**
     * Calls `listener` after every change of a survey, by whichever server; with nothing where it has to be asked
     * what became of it. Returns how to stop.
     */
    follow: (id: string, listener: (change?: SurveyChange) => void): (() => void) =>
      store.onChange(({ surveyId, revision, scheme, job }) => {
        // Without a survey any of them may have been changed, but by a job none is.
        if (surveyId === undefined ? job !== undefined : surveyId !== id) return;
        if (revision === undefined) listener();
        else listener(scheme === undefined ? { revision } : { revision, scheme });
      }),

    /** Waits until an import has ended, however. */
    settled: jobs.settled,

    /** Calls `listener` with the import as it stands and at every change; with nothing where it is over. */
    listen: (id: string, listener: (view?: SurveyView) => void): (() => void) =>
      jobs.listen(id, (job) => {
        if (job === undefined || isImport(job)) listener(job && toJobView(job));
      }),
  };
}

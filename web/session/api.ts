import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { z } from 'zod';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';
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
import type {
  Area,
  ImportReport,
  RulePatch,
  SurveyView,
  surveyCommandSchema,
} from '../../shared/wire/survey.ts';
import { type Ask, createAsk } from './ask.ts';

export type { Answer, ApiProblem } from './ask.ts';

export type TunnelData = {
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  readonly scheme: Scheme;
};
export type SurveyCommand = z.infer<typeof surveyCommandSchema>;
export type Config = { readonly version: string; readonly basemapStyleUrl?: string };
export type Layer = FeatureCollection & { readonly features: readonly Feature<Geometry>[] };

/** What a file that is brought to a survey tells of. */
export type EvidenceKind = 'traffic' | 'existing';

export type Api = ReturnType<typeof createApi>;

/** The server's HTTP API, but for what is about people (account-api.ts). */
export function createApi({ ask, send, file }: Ask = createAsk()) {
  const upload = (path: string, file: File) => {
    const body = new FormData();
    body.set('file', file);
    return ask<SurveyView>(path, { method: 'POST', body });
  };
  const survey = (id: string) => `/api/surveys/${encodeURIComponent(id)}`;
  const tunnel = (id: string, complexId: string) =>
    `${survey(id)}/complexes/${encodeURIComponent(complexId)}`;

  return {
    /** Whether the server answers, whatever it says: it may ask for a sign-in first. */
    isUp: async () => {
      const answer = await ask<unknown>('/api/session');
      return answer.ok || answer.problem.code !== 'unreachable';
    },
    config: () => ask<Config>('/api/config'),
    listSurveys: () => ask<{ surveys: readonly SurveyView[] }>('/api/surveys'),
    findSurvey: (id: string) => ask<SurveyView>(survey(id)),
    startUpload: (file: File) => upload('/api/surveys', file),
    startArea: (area: Area, name: string | undefined) =>
      send<SurveyView>('POST', '/api/surveys', name === undefined ? { area } : { area, name }),
    previewArea: (area: Area) =>
      send<{ query: string; areaKm2: number }>('POST', '/api/overpass-preview', { area }),
    removeSurvey: (id: string) => ask<undefined>(survey(id), { method: 'DELETE' }),
    changeRules: (id: string, rules: RulePatch) => send<SurveyView>('PATCH', survey(id), { rules }),
    editSurvey: (id: string, baseRevision: number, command: SurveyCommand) =>
      send<SurveyView>('POST', `${survey(id)}/commands`, { baseRevision, command }),
    uploadCandidate: (id: string, file: File) => upload(`${survey(id)}/candidate`, file),
    askCandidate: (id: string) => send<SurveyView>('POST', `${survey(id)}/candidate`, { again: true }),
    discardCandidate: (id: string) => ask<undefined>(`${survey(id)}/candidate`, { method: 'DELETE' }),
    comparison: (id: string) => ask<Comparison>(`${survey(id)}/comparison`),
    layer: (id: string, layer: LayerName) => ask<Layer>(`${survey(id)}/layers/${layer}`),
    report: (id: string) => ask<ImportReport>(`${survey(id)}/report`),
    tunnel: (id: string, complexId: string) => ask<TunnelData>(tunnel(id, complexId)),
    sendCommands: (id: string, complexId: string, baseRevision: number, commands: readonly Command[]) =>
      send<{ scheme: Scheme }>('POST', `${tunnel(id, complexId)}/commands`, { baseRevision, commands }),
    /** Brings traffic counts or beacons that are there already, in place of those before. */
    bringEvidence: (id: string, kind: EvidenceKind, file: File) =>
      ask<SurveyView>(`${survey(id)}/${kind}?name=${encodeURIComponent(file.name)}`, {
        method: 'PUT',
        headers: { 'content-type': 'application/octet-stream' },
        body: file,
      }),
    removeEvidence: (id: string, kind: EvidenceKind) =>
      ask<SurveyView>(`${survey(id)}/${kind}`, { method: 'DELETE' }),
    /** What became of each row of the files that were brought. */
    evidence: (id: string) => ask<EvidenceReport>(`${survey(id)}/evidence`),
    ranking: (id: string, request: RankingRequest, signal: AbortSignal) =>
      send<RankingView>('POST', `${survey(id)}/ranking`, request, signal),
    drives: (id: string) => ask<DrivesView>(`${survey(id)}/drives`),
    endDrives: (id: string) => ask<undefined>(`${survey(id)}/drives`, { method: 'DELETE' }),
    programme: (id: string, request: ProgrammeRequest, signal: AbortSignal) =>
      send<ProgrammeView>('POST', `${survey(id)}/programme`, request, signal),
    history: (id: string, before?: number) =>
      ask<HistoryView>(`${survey(id)}/revisions${before === undefined ? '' : `?before=${before}`}`),
    revisionComparison: (id: string, revision: number) =>
      ask<RevisionComparison>(`${survey(id)}/revisions/${revision}/comparison`),
    goBack: (id: string, revision: number, request: GoBackRequest) =>
      send<SurveyView>('POST', `${survey(id)}/revisions/${revision}/restore`, request),
    eventsUrl: (id: string) => `${survey(id)}/events`,
    changesUrl: (id: string) => `${survey(id)}/changes`,
    /** How much a hand-over of these tunnels, or of all, would hold. */
    previewHandOver: (id: string, tunnels: readonly string[] | undefined, signal: AbortSignal) =>
      send<HandOverPreview>(
        'POST',
        `${survey(id)}/export-preview`,
        tunnels === undefined ? {} : { tunnels },
        signal,
      ),
    handOver: (id: string, request: HandOverRequest, signal: AbortSignal, onBytes: (bytes: number) => void) =>
      file(`${survey(id)}/export`, request, signal, onBytes),
  };
}

import type { Feature, FeatureCollection, Geometry } from 'geojson';
import type { z } from 'zod';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';
import type { Comparison, RevisionComparison } from '../../shared/wire/comparison.ts';
import type { GoBackRequest, HistoryView } from '../../shared/wire/history.ts';
import type { LayerName } from '../../shared/wire/layers.ts';
import type {
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

/** Why a request gave no answer: a refusal of the server with its sentence, or that nobody answered. */
export type ApiProblem = {
  /** A refusal's code, `unreachable` where no server answered, or `fault`. */
  readonly code: string;
  readonly status: number;
  readonly detail: string;
  readonly context: Readonly<Record<string, unknown>>;
};

export type Answer<T> =
  | { readonly ok: true; readonly value: T }
  | { readonly ok: false; readonly problem: ApiProblem };

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

/** The server's HTTP API. Nothing throws: a network failure is a problem with the code `unreachable`. */
export function createApi(fetcher: typeof fetch = (...given) => fetch(...given)) {
  const ask = async <T>(path: string, init: RequestInit = {}): Promise<Answer<T>> => {
    let response: Response;
    try {
      response = await fetcher(path, init);
    } catch {
      return { ok: false, problem: UNREACHABLE };
    }
    return readAnswer<T>(response);
  };
  const send = <T>(method: string, path: string, body: unknown, signal?: AbortSignal) =>
    ask<T>(path, {
      method,
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
      ...(signal === undefined ? {} : { signal }),
    });
  const upload = (path: string, file: File) => {
    const body = new FormData();
    body.set('file', file);
    return ask<SurveyView>(path, { method: 'POST', body });
  };
  const survey = (id: string) => `/api/surveys/${encodeURIComponent(id)}`;
  const tunnel = (id: string, complexId: string) =>
    `${survey(id)}/complexes/${encodeURIComponent(complexId)}`;

  return {
    isUp: async () => (await ask<unknown>('/api/config')).ok,
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
    exportUrl: (id: string) => `${survey(id)}/export`,
    downloadUrl: (id: string, layer: LayerName) => `${survey(id)}/layers/${layer}?download`,
  };
}

const UNREACHABLE: ApiProblem = {
  code: 'unreachable',
  status: 0,
  detail: 'The server does not answer. Check that it is running, then try again.',
  context: {},
};

async function readAnswer<T>(response: Response): Promise<Answer<T>> {
  const type = response.headers.get('content-type') ?? '';
  if (response.ok) {
    if (response.status === 204) return { ok: true, value: undefined as T };
    try {
      return { ok: true, value: (await response.json()) as T };
    } catch {
      return { ok: false, problem: UNREACHABLE };
    }
  }
  if (type.startsWith('application/problem+json')) {
    const problem = (await response.json().catch(() => undefined)) as ApiProblem | undefined;
    if (problem !== undefined) return { ok: false, problem };
  }
  // A gateway in front of a stopped server answers with a page of its own.
  if (response.status >= 502) return { ok: false, problem: UNREACHABLE };
  const detail = `The server answered ${response.status} ${response.statusText}.`;
  return { ok: false, problem: { code: 'fault', status: response.status, detail, context: {} } };
}

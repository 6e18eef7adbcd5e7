import { findOrigin } from '../../shared/export/origin.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { listOverrides } from '../../shared/scheme/survey-log.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import type { ImportJob, JobState } from '../jobs/job.ts';
import type { Candidate, SurveyRecord } from '../store/store.ts';
import type { DerivedSurveys } from './derived-surveys.ts';
import { toEvidenceView } from './evidence-view.ts';
import type { KeptView } from './view-memory.ts';

/** An import as it is told: a survey that is not there yet. */
export function toJobView(job: ImportJob): SurveyView {
  const base = {
    id: job.id,
    name: job.name,
    demo: false,
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

/** What is told of a survey while a newer extract is read for it. */
export function withCandidateJob(view: KeptView, jobs: readonly ImportJob[]): SurveyView {
  const job = jobs.find(({ forSurvey, state }) => forSurvey === view.id && state.status === 'working');
  return job === undefined ? view : { ...view, candidateJob: { id: job.id, name: job.name } };
}

/** A kept survey as it is told. */
export async function toView(record: SurveyRecord, derived: DerivedSurveys): Promise<KeptView> {
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
    evidence: toEvidenceView(record.evidence, derived.matched(record).value),
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

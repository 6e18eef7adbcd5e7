import type { ComplexId } from '../../shared/network/network.ts';
import type { Refusal } from '../../shared/outcome/refusal.ts';
import type { Area, Progress } from '../../shared/wire/survey.ts';
import type { DriveCaseName } from '../surveys/drive-cases.ts';

/** Where an import gets its data: a file that was sent (uploads.ts), or an area to be asked of the map server. */
export type JobSource =
  | { readonly kind: 'upload'; readonly uploadId: string; readonly fileName: string }
  | { readonly kind: 'area'; readonly area: Area; readonly newer: boolean };

/** What is to be done, as plain data: whoever takes it, on whichever machine, knows all. */
export type NewJob = NewImport | NewDrives;

type Base = {
  readonly id: string;
  readonly name: string;
  /** ISO 8601, UTC. */
  readonly startedAt: string;
};

export type NewImport = Base & {
  readonly kind: 'import';
  /** The survey that a newer extract is read for. */
  readonly forSurvey?: string;
  /** The account that asked for it, where there are accounts. */
  readonly by?: string;
  readonly source: JobSource;
};

/** Drives through some tunnels of a survey, with the assumptions of a case (drive-cases.ts) or the rules' own. */
export type NewDrives = Base & {
  readonly kind: 'drives';
  readonly forSurvey: string;
  readonly complexIds: readonly ComplexId[];
  readonly caseName?: DriveCaseName;
};

export type JobState =
  | { readonly status: 'working'; readonly progress: Progress }
  | { readonly status: 'ready' }
  | { readonly status: 'refused'; readonly refusal: Refusal };

/** A job as people see it: one that waits is 'working', at the stage 'waiting'. */
export type Job = NewJob & { readonly state: JobState };
export type ImportJob = NewImport & { readonly state: JobState };

export function isImport(job: Job): job is ImportJob {
  return job.kind === 'import';
}

/** One attempt at a job; nobody else's word about the job counts as long as it is his. */
export type Run = { readonly jobId: string; readonly runner: string };

/** A job may be begun so often where whoever does it dies. */
export const MOST_ATTEMPTS = 3;

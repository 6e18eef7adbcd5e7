import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import type { ImportedSurvey } from './import-task.ts';

export type JobState =
  | { readonly status: 'working'; readonly progress: Progress }
  | { readonly status: 'ready' }
  | { readonly status: 'refused'; readonly refusal: Refusal };

export type ImportJob = {
  readonly id: string;
  readonly name: string;
  readonly demo: boolean;
  readonly startedAt: string;
  /** The survey that a newer extract is read for. */
  readonly forSurvey?: string;
  state: JobState;
};

/** Does the work of one import: from a question or a file to what was found. */
export type Work = (
  report: (progress: Progress) => void,
  signal: AbortSignal,
) => Promise<Result<ImportedSurvey>>;

export type ImportJobs = {
  start(job: Omit<ImportJob, 'state'>, work: Work, keep: (found: ImportedSurvey) => Promise<void>): ImportJob;
  find(id: string): ImportJob | undefined;
  list(): readonly ImportJob[];
  /** Ends a job or forgets a refused one; false where there is none. */
  cancel(id: string): boolean;
  /** Calls `listener` with the present state and at every change; returns how to stop listening. */
  listen(id: string, listener: (state: JobState) => void): () => void;
};

/** Imports that have ended and stay to be read; the oldest go when there are more than this. */
const KEPT_ENDED = 20;

type Entry = { job: ImportJob; abort: AbortController; listeners: Set<(state: JobState) => void> };

/**
 * Runs imports one after the other (they are heavy) and tells who asks how far they are. A finished job is
 * forgotten once its survey is kept; a refused one stays to be read.
 *
 * @param onBug told of a fault of ours; the person sees that the import failed, the server goes on.
 */
export function createImportJobs(onBug: (error: unknown) => void): ImportJobs {
  const entries = new Map<string, Entry>();
  let turn: Promise<unknown> = Promise.resolve();

  const change = (entry: Entry, state: JobState) => {
    entry.job.state = state;
    for (const listener of [...entry.listeners]) listener(state);
  };

  const run = async (entry: Entry, work: Work, keep: (found: ImportedSurvey) => Promise<void>) => {
    const report = (progress: Progress) => {
      if (entry.job.state.status === 'working') change(entry, { status: 'working', progress });
    };
    let result: Result<unknown>;
    try {
      // The work of one that was cancelled is begun all the same: it sees the signal and clears up what waits for it.
      const found = await work(report, entry.abort.signal);
      if (found.ok && !entry.abort.signal.aborted) await keep(found.value);
      result = found;
    } catch (error) {
      onBug(error);
      result = refused(refusal('import-failed', { name: entry.job.name }));
    }
    // A cancelled job has been forgotten, and its listeners know.
    if (entry.abort.signal.aborted) return;
    if (result.ok) {
      // A new survey answers for itself now; what was read for another one has only its job to tell that it is done.
      if (entry.job.forSurvey === undefined) entries.delete(entry.job.id);
      change(entry, { status: 'ready' });
    } else change(entry, { status: 'refused', refusal: result.refusal });
    const ended = [...entries.values()].filter(({ job }) => job.state.status !== 'working');
    for (const old of ended.slice(0, -KEPT_ENDED)) entries.delete(old.job.id);
  };

  return {
    start(base, work, keep) {
      const job: ImportJob = {
        ...base,
        state: { status: 'working', progress: { stage: 'waiting', done: 0 } },
      };
      const entry: Entry = { job, abort: new AbortController(), listeners: new Set() };
      entries.set(job.id, entry);
      turn = turn.then(() => run(entry, work, keep));
      return job;
    },
    find: (id) => entries.get(id)?.job,
    list: () => [...entries.values()].map((entry) => entry.job),
    cancel(id) {
      const entry = entries.get(id);
      if (entry === undefined) return false;
      entry.abort.abort();
      entries.delete(id);
      if (entry.job.state.status === 'working') {
        change(entry, { status: 'refused', refusal: refusal('job-cancelled') });
      }
      return true;
    },
    listen(id, listener) {
      const entry = entries.get(id);
      if (entry === undefined) return () => {};
      entry.listeners.add(listener);
      listener(entry.job.state);
      return () => entry.listeners.delete(listener);
    },
  };
}

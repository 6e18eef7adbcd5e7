import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import { type Result, refused } from '../../shared/outcome/result.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { findStoreFault } from '../store/find-store-fault.ts';
import type { Job, Run } from './job.ts';
import type { JobStore } from './job-store.ts';
import { throttleReport } from './throttle-report.ts';

/**
 * Does a job from beginning to end, and keeps what it came to. It may be begun a second time where somebody was taken
 * for dead: what it keeps has to be kept only as long as `run` has the job (Store.saveSurvey), or be harmless twice.
 */
export type Perform = (
  job: Job,
  run: Run,
  report: (progress: Progress) => void,
  signal: AbortSignal,
) => Promise<Result<Uint8Array | null>>;

export type RunDeps = {
  readonly store: JobStore;
  readonly perform: Perform;
  /** Told of a fault of ours; the person sees that the import failed, the server goes on. */
  readonly onBug: (error: unknown) => void;
  readonly beatMs: number;
};

/** Progress is told about twice a second: each time every server hears it. */
const REPORT_MS = 500;

/** Why a run is broken off: the job is no longer its own, or the program stops and the job is for others. */
export type Break = 'lost' | 'stopping';

/** Does one job that `run` has; ends when all is over and told, and never throws. */
export async function runJob(deps: RunDeps, job: Job, run: Run, abort: AbortController): Promise<void> {
  const { store, onBug } = deps;
  const { rows } = store;
  const ifOwn = (own: boolean) => {
    if (!own) abort.abort('lost' satisfies Break);
  };
  const beat = setInterval(() => void rows.beat(run).then(ifOwn, onBug), deps.beatMs);
  const { report, stop } = throttleReport<Progress>(REPORT_MS, (progress) => {
    void rows.report(run, progress).then(ifOwn, onBug);
  });
  try {
    const result = await perform(deps, job, run, report, abort.signal);
    stop();
    // Whatever the run says after it has lost the job is not heard.
    if (abort.signal.reason === ('stopping' satisfies Break) && !result.ok) await rows.giveBack(run);
    else if (result.ok) await rows.end(run, undefined, result.value ?? undefined);
    else await rows.end(run, result.refusal);
    await forgetUpload(store, job);
  } catch (error) {
    // It is left working without a heartbeat: somebody will find it.
    onBug(error);
  } finally {
    stop();
    clearInterval(beat);
  }
}

/** Removes the file of a job that has ended, however. */
export async function forgetUpload({ rows, uploads }: JobStore, job: Job): Promise<void> {
  if (job.kind !== 'import' || job.source.kind !== 'upload') return;
  const now = await rows.find(job.id);
  if (now?.state.status !== 'working') await uploads.remove(job.source.uploadId);
}

async function perform(
  { perform: work, onBug }: RunDeps,
  job: Job,
  run: Run,
  report: (progress: Progress) => void,
  signal: AbortSignal,
): Promise<Result<Uint8Array | null>> {
  try {
    return await work(job, run, report, signal);
  } catch (error) {
    if (!signal.aborted) onBug(error);
    return refused(toRefusal(error, job.name));
  }
}

function toRefusal(error: unknown, name: string): Refusal {
  return findStoreFault(error) ?? refusal('import-failed', { name });
}

import { randomUUID } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Store } from '../store/store.ts';
import type { Job, Run } from './job.ts';
import { type Break, forgetUpload, type Perform, runJob } from './run-job.ts';
import { createRunWatch } from './watch-runs.ts';

export type RunnerOptions = {
  readonly store: Pick<Store, 'jobs' | 'onChange'>;
  readonly perform: Perform;
  /** How many jobs are done here at once; 0 where others do them. */
  readonly count: number;
  /** Told of a fault of ours; the person sees that the import failed, the server goes on. */
  readonly onBug: (error: unknown) => void;
  /** How often a run says that it lives, and after how long without that it counts as dead. */
  readonly beatMs?: number;
  readonly silentMs?: number;
};

export type Runner = {
  /** Takes no further job, gives back those that run, and ends when all is told. */
  stop(): Promise<void>;
};

const BEAT_MS = 5000;
const SILENT_MS = 30_000;
/** Work that has not ended so long after it was told to is left to whoever finds it silent. */
const STOP_MS = 8000;

/** Does the jobs that wait, and gives those back whose runner has died, until it is stopped. */
export function startRunner(options: RunnerOptions): Runner {
  const { store, count, onBug, beatMs = BEAT_MS, silentMs = SILENT_MS } = options;
  const { rows, queue } = store.jobs;
  const stopping = new AbortController();
  const running = new Map<string, AbortController>();
  const sleeping = new Set<AbortController>();

  let told = 0;

  /** Until a job waits that nobody has told of before, or the queue is to be asked anyway. */
  const rest = async (toldBefore: number) => {
    if (told !== toldBefore) return;
    const wake = new AbortController();
    sleeping.add(wake);
    await sleep(queue.pollMs, undefined, { signal: wake.signal, ref: false }).catch(() => {});
    sleeping.delete(wake);
  };

  const takeNext = async (): Promise<{ job: Job; run: Run } | undefined> => {
    for (;;) {
      const handed = await queue.take();
      if (handed === undefined) return undefined;
      const run = { jobId: handed.jobId, runner: randomUUID() };
      const job = await rows.begin(handed, run.runner);
      if (job !== undefined) return { job, run };
    }
  };

  const work = async () => {
    while (!stopping.signal.aborted) {
      const toldBefore = told;
      const next = await takeNext().catch(onBug);
      if (!next) await rest(toldBefore);
      else if (stopping.signal.aborted) await rows.giveBack(next.run).catch(onBug);
      else {
        const abort = new AbortController();
        running.set(next.job.id, abort);
        await runJob({ ...options, store: store.jobs, beatMs }, next.job, next.run, abort);
        running.delete(next.job.id);
      }
    }
  };

  const stopHearing = store.onChange(({ job }) => {
    if (job?.now === 'gone') running.get(job.id)?.abort('lost' satisfies Break);
    if (job?.now !== 'waiting') return;
    told += 1;
    for (const wake of sleeping) wake.abort();
  });

  const watch = createRunWatch(rows, silentMs);
  const clearUp = async () => {
    for (const run of await watch.look()) await takeBack(store.jobs, run);
  };
  const sweep = setInterval(() => void clearUp().catch(onBug), Math.min(beatMs, silentMs));
  sweep.unref();

  const begun = begin(store.jobs).catch(onBug);
  const workers = Array.from({ length: count }, () => begun.then(work));

  return {
    async stop() {
      stopping.abort();
      clearInterval(sweep);
      for (const abort of running.values()) abort.abort('stopping' satisfies Break);
      for (const wake of sleeping) wake.abort();
      await Promise.race([Promise.all(workers), sleep(STOP_MS, undefined, { ref: false })]);
      stopHearing();
    },
  };
}

/** What is left of an earlier process: files that no job names, and jobs where nobody else can be doing them. */
async function begin({ isShared, ...jobs }: Store['jobs']): Promise<void> {
  const { rows, uploads } = jobs;
  if (!isShared) for (const run of await rows.listRuns()) await takeBack({ isShared, ...jobs }, run);
  const named = (await rows.list()).flatMap((job) =>
    job.kind === 'import' && job.source.kind === 'upload' ? [job.source.uploadId] : [],
  );
  await uploads.removeOthers(named);
}

async function takeBack(jobs: Store['jobs'], run: Run): Promise<void> {
  const job = await jobs.rows.find(run.jobId);
  if ((await jobs.rows.takeBack(run)) && job !== undefined) await forgetUpload(jobs, job);
}

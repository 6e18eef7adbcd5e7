import { refusal } from '../../shared/outcome/refusal.ts';
import type { Store } from '../store/store.ts';
import type { Job, JobState, NewJob } from './job.ts';
import { forgetUpload } from './run-job.ts';
import { type RunnerOptions, startRunner } from './start-runner.ts';

/** What can be asked of jobs, whichever server or worker does them. */
export type Jobs = {
  /** Lets a job wait for its turn; where there is one of its id already, that one is answered. */
  add(job: NewJob): Promise<Job>;
  find(id: string): Promise<Job | undefined>;
  /** In the order in which they came. */
  list(): Promise<readonly Job[]>;
  /** Ends a job or forgets an ended one; false where there is none. */
  cancel(id: string): Promise<boolean>;
  /**
   * Calls `listener` with the job as it stands and after every change, until it has ended: it is ready, or refused, as
   * `job-cancelled` too; with nothing where it was over before it was looked at. Returns how to stop listening.
   * Nothing is heard of a job that never was.
   */
  listen(id: string, listener: (job?: Job) => void): () => void;
  /** Waits until a job has ended, however. */
  settled(id: string): Promise<void>;
  /** Takes no further job, and lets those that run here wait for somebody else or for the next start. */
  stop(): Promise<void>;
};

export type JobsDeps = Omit<RunnerOptions, 'store'> & { readonly store: Store };

/** Jobs of a store, as every server tells them; `count` of them at once are done here, the oldest first. */
export function createJobs({ store, ...options }: JobsDeps): Jobs {
  const { rows } = store.jobs;
  const runner = startRunner({ ...options, store });

  /** What has become of a job that is not there any more. */
  const toEnd = async (id: string): Promise<JobState> =>
    (await store.findSurvey(id)) === undefined
      ? { status: 'refused', refusal: refusal('job-cancelled') }
      : { status: 'ready' };

  const listen: Jobs['listen'] = (id, listener) => {
    let turn: Promise<void> = Promise.resolve();
    let isOver = false;
    let last: Job | undefined;
    const tell = async (wasTold: boolean) => {
      if (isOver) return;
      const found = await rows.find(id);
      // What a person waits for who never saw it, only the store can tell.
      if (found === undefined && !wasTold) return;
      const job = found ?? (last && { ...last, state: await toEnd(id) });
      if (isOver) return;
      last = job;
      if (job?.state.status !== 'working') stop();
      listener(job);
    };
    const look = (wasTold: boolean) => {
      turn = turn.then(() => tell(wasTold)).catch(options.onBug);
    };
    const stopHearing = store.onChange(({ surveyId, job }) => {
      const isAny = surveyId === undefined && job === undefined;
      if (job?.id === id || isAny) look(job?.id === id || last !== undefined);
    });
    const stop = () => {
      isOver = true;
      stopHearing();
    };
    look(false);
    return stop;
  };

  return {
    add: rows.add,
    find: rows.find,
    list: rows.list,
    async cancel(id) {
      const job = await rows.remove(id);
      if (job === undefined) return false;
      await forgetUpload(store.jobs, job);
      return true;
    },
    listen,
    settled: (id) =>
      new Promise<void>((resolve, reject) => {
        const end = () => {
          stop();
          resolve();
        };
        const stop = listen(id, (job) => {
          if (job?.state.status !== 'working') end();
        });
        rows.find(id).then((job) => {
          if (job === undefined) end();
        }, reject);
      }),
    stop: runner.stop,
  };
}

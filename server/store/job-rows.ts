import { type Kysely, sql, type Transaction } from 'kysely';
import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import type { Progress } from '../../shared/wire/survey.ts';
import { type Job, type JobState, MOST_ATTEMPTS, type NewJob, type Run } from '../jobs/job.ts';
import type { HandedOut, JobQueue } from '../jobs/job-queue.ts';
import type { StoreChange } from './changes.ts';
import { type Commit, Overtaken } from './overtaken.ts';
import type { Tables } from './tables.ts';

/**
 * Jobs as every server tells them. Every change is told to every server. What a run says counts only as long as the
 * job is its own: nothing happens, and the answer is false, where it was taken back or cancelled.
 */
export type JobRows = {
  /** Lets a job wait; where there is one of its id already that one stays. */
  add(job: NewJob): Promise<Job>;
  find(id: string): Promise<Job | undefined>;
  /** In the order in which they came. */
  list(): Promise<readonly Job[]>;
  /** Makes `runner` the one who does a job; undefined where it does not wait any more. */
  begin(handed: HandedOut, runner: string): Promise<Job | undefined>;
  beat(run: Run): Promise<boolean>;
  report(run: Run, progress: Progress): Promise<boolean>;
  /** Lets a job wait again as if this attempt had not been. */
  giveBack(run: Run): Promise<boolean>;
  /** After a runner's death: the job waits again, or is refused where that has happened too often. */
  takeBack(run: Run): Promise<boolean>;
  /** The end of a job that is not forgotten yet: it was refused, or is ready. */
  end(run: Run, why: Refusal | undefined, result?: Uint8Array): Promise<boolean>;
  /** What a job that is ready came to. */
  findResult(id: string): Promise<Uint8Array | undefined>;
  /** Forgets a job, whatever it is doing; undefined where there is none. */
  remove(id: string): Promise<Job | undefined>;
  /** Every run there is, with its heartbeat. */
  listRuns(): Promise<readonly (Run & { readonly beats: number })[]>;
};

/** Jobs of a kind that have ended and stay to be read; the oldest go when there are more than this. */
const KEPT_ENDED = { import: 20, drives: 100 } as const satisfies Record<Row['kind'], number>;

const WAITING: Progress = { stage: 'waiting', done: 0 };

type Row = Tables['jobs'];

/** Without the result, which may be large. */
const TOLD = ['id', 'body', 'state', 'progress', 'refusal'] as const;
type Change = Partial<Omit<Row, 'id'>>;

export function createJobRows(db: Kysely<Tables>, commit: Commit, queue: JobQueue): JobRows {
  const find = async (id: string) => {
    const row = await db.selectFrom('jobs').select(TOLD).where('id', '=', id).executeTakeFirst();
    return row === undefined ? undefined : toJob(row);
  };
  const changeRun = (run: Run, change: (trx: Transaction<Tables>) => Promise<StoreChange['job']>) =>
    commit(async (trx) => ({ job: (await change(trx)) ?? { id: run.jobId } }));
  const waitAgain = async (trx: Transaction<Tables>, run: Run, attempt: number) => {
    await setRun(trx, run, { ...AGAIN, attempt });
    await queue.add(trx, run.jobId, true);
    return { id: run.jobId, now: 'waiting' } as const;
  };

  return {
    async add(job) {
      await commit(async (trx) => {
        const added = await trx
          .insertInto('jobs')
          .values({
            id: job.id,
            seq: nextSeq(),
            kind: job.kind,
            body: JSON.stringify(job),
            beats: 0,
            attempt: 0,
            result: null,
            ...AGAIN,
          })
          .onConflict((conflict) => conflict.column('id').doNothing())
          .executeTakeFirst();
        if (added.numInsertedOrUpdatedRows !== 1n) throw new Overtaken();
        await queue.add(trx, job.id, false);
        return { job: { id: job.id, now: 'waiting' } };
      });
      return (await find(job.id)) ?? { ...job, state: { status: 'working', progress: WAITING } };
    },
    find,
    async list() {
      return (await db.selectFrom('jobs').select(TOLD).orderBy('seq').orderBy('id').execute()).map(toJob);
    },
    async begin({ jobId, settle }, runner) {
      let begun: Job | undefined;
      await commit(async (trx) => {
        const row = await trx
          .updateTable('jobs')
          .set((part) => ({ state: 'working', runner, attempt: part('attempt', '+', 1) }))
          .where('id', '=', jobId)
          .where('state', '=', 'waiting')
          .returningAll()
          .executeTakeFirst();
        await settle(trx);
        begun = row && toJob(row);
        return { job: { id: jobId } };
      });
      return begun;
    },
    async beat(run) {
      const { numUpdatedRows } = await ofRun(db, run)
        .set((part) => ({ beats: part('beats', '+', 1) }))
        .executeTakeFirst();
      return numUpdatedRows > 0n;
    },
    report: (run, progress) =>
      changeRun(run, async (trx) => {
        await setRun(trx, run, { progress: JSON.stringify(progress) });
        return undefined;
      }),
    giveBack: (run) =>
      changeRun(run, async (trx) => waitAgain(trx, run, (await getRun(trx, run)).attempt - 1)),
    takeBack: (run) =>
      changeRun(run, async (trx) => {
        const { attempt, body } = await getRun(trx, run);
        if (attempt < MOST_ATTEMPTS) return waitAgain(trx, run, attempt);
        const { name } = JSON.parse(body) as NewJob;
        await endRow(trx, run, refusal('job-died', { name, attempts: attempt }));
        return undefined;
      }),
    end: (run, why, result) =>
      changeRun(run, async (trx) => {
        await endRow(trx, run, why, result);
        return undefined;
      }),
    async findResult(id) {
      const row = await db.selectFrom('jobs').select('result').where('id', '=', id).executeTakeFirst();
      const bytes = row?.result ?? undefined;
      // One driver answers with an ArrayBuffer.
      return (bytes as unknown) instanceof ArrayBuffer ? new Uint8Array(bytes as never) : bytes;
    },
    async remove(id) {
      let removed: Job | undefined;
      await commit(async (trx) => {
        const row = await trx.deleteFrom('jobs').where('id', '=', id).returningAll().executeTakeFirst();
        if (row === undefined) throw new Overtaken();
        removed = toJob(row);
        return { job: { id, now: 'gone' } };
      });
      return removed;
    },
    async listRuns() {
      const rows = await db.selectFrom('jobs').selectAll().where('state', '=', 'working').execute();
      return rows.map(({ id, runner, beats }) => ({ jobId: id, runner: runner ?? '', beats }));
    },
  };
}

/** Forgets a job with what its run has made, in one transaction; throws Overtaken where the job is no more its own. */
export async function forgetRun(trx: Transaction<Tables>, { jobId, runner }: Run): Promise<void> {
  const { numDeletedRows } = await trx
    .deleteFrom('jobs')
    .where('id', '=', jobId)
    .where('runner', '=', runner)
    .executeTakeFirst();
  if (numDeletedRows === 0n) throw new Overtaken();
}

const AGAIN = {
  state: 'waiting',
  runner: null,
  refusal: null,
  progress: JSON.stringify(WAITING),
} as const satisfies Change;

const nextSeq = () => sql<number>`(select coalesce(max(seq), 0) + 1 from jobs)`;

function ofRun(db: Kysely<Tables>, { jobId, runner }: Run) {
  return db
    .updateTable('jobs')
    .where('id', '=', jobId)
    .where('runner', '=', runner)
    .where('state', '=', 'working');
}

async function setRun(trx: Transaction<Tables>, run: Run, change: Change): Promise<void> {
  const { numUpdatedRows } = await ofRun(trx, run).set(change).executeTakeFirst();
  if (numUpdatedRows === 0n) throw new Overtaken();
}

async function getRun(trx: Transaction<Tables>, { jobId, runner }: Run): Promise<Row> {
  const row = await trx
    .selectFrom('jobs')
    .selectAll()
    .where('id', '=', jobId)
    .where('runner', '=', runner)
    .executeTakeFirst();
  if (row === undefined) throw new Overtaken();
  return row;
}

async function endRow(
  trx: Transaction<Tables>,
  run: Run,
  why: Refusal | undefined,
  result?: Uint8Array,
): Promise<void> {
  await setRun(
    trx,
    run,
    why === undefined
      ? { state: 'ready', result: result ?? null }
      : { state: 'refused', refusal: JSON.stringify(why) },
  );
  const { kind } = await trx
    .selectFrom('jobs')
    .select('kind')
    .where('id', '=', run.jobId)
    .executeTakeFirstOrThrow();
  const ended = await trx
    .selectFrom('jobs')
    .select('id')
    .where('kind', '=', kind)
    .where('state', 'in', ['refused', 'ready'])
    .orderBy('seq', 'desc')
    .orderBy('id', 'desc')
    .execute();
  const old = ended.slice(KEPT_ENDED[kind]).map(({ id }) => id);
  if (old.length > 0) await trx.deleteFrom('jobs').where('id', 'in', old).execute();
}

function toJob({ body, state, progress, refusal: why }: Pick<Row, (typeof TOLD)[number]>): Job {
  return { ...(JSON.parse(body) as NewJob), state: toState(state, progress, why) };
}

function toState(state: Row['state'], progress: string, why: string | null): JobState {
  if (state === 'ready') return { status: 'ready' };
  if (state === 'refused') return { status: 'refused', refusal: JSON.parse(why ?? '{}') as Refusal };
  return { status: 'working', progress: JSON.parse(progress) as Progress };
}

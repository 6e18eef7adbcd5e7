import { createHash } from 'node:crypto';
import { setTimeout as sleep } from 'node:timers/promises';
import { gunzipSync } from 'node:zlib';
import type { DecisionDrive } from '../../shared/drive/drive.ts';
import type { ComplexId } from '../../shared/network/network.ts';
import { RefusalError } from '../../shared/outcome/refusal.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import { type DrivenTunnel, digestDesign } from '../jobs/drive-task.ts';
import type { NewDrives } from '../jobs/job.ts';
import type { Jobs } from '../jobs/jobs.ts';
import type { Store } from '../store/store.ts';
import { takeTurns } from '../take-turns.ts';
import type { DriveCaseName } from './drive-cases.ts';

/** What drives through many tunnels came to; a tunnel that was changed meanwhile is not in it. */
export type DriveMany = (
  surveyId: string,
  designed: readonly Designed[],
  caseName: DriveCaseName | undefined,
) => Promise<ReadonlyMap<ComplexId, readonly DecisionDrive[]>>;

export type DriveManyDeps = {
  readonly store: Store;
  readonly jobs: Pick<Jobs, 'add' | 'find' | 'cancel' | 'settled'>;
  readonly now: () => Date;
  /** Another one for every build of the program: what an older one came to is not taken over. */
  readonly edition: string;
};

/** Longest that an answer waits: the jobs go on, and who asks again has what they came to. */
const LIMIT_MIN = 10;
/** Tunnels in one job: few seconds, so that several workers share a city; a thread of its own takes half a second to get going. */
const PER_JOB = 250;

/**
 * Has tunnels driven by jobs, on whichever server or worker. Jobs are named by what they are to drive: who asks for
 * the same waits for the same jobs. Throws RefusalError where one of them was refused or cancelled.
 */
export function createDriveMany({ store, jobs, now, edition }: DriveManyDeps): DriveMany {
  const ask = async (id: string, job: Omit<NewDrives, 'id'>) => {
    // One that was refused is tried anew when it is asked for anew.
    if ((await jobs.find(id))?.state.status === 'refused') await jobs.cancel(id);
    await jobs.add({ ...job, id });
  };

  const take = async (id: string): Promise<readonly DrivenTunnel[]> => {
    await waitFor(id);
    const job = await jobs.find(id);
    const bytes = await store.jobs.rows.findResult(id);
    if (bytes !== undefined) return JSON.parse(gunzipSync(bytes).toString()) as readonly DrivenTunnel[];
    if (job?.state.status !== 'refused') throw new RefusalError('job-cancelled');
    throw new RefusalError(job.state.refusal.code, job.state.refusal.context);
  };

  const waitFor = async (id: string) => {
    const over = new AbortController();
    const late = sleep(LIMIT_MIN * 60_000, true, { signal: over.signal, ref: false }).catch(() => false);
    const isLate = await Promise.race([jobs.settled(id).then(() => false), late]);
    over.abort();
    if (isLate) throw new RefusalError('took-too-long', { name: 'The simulated drives', minutes: LIMIT_MIN });
  };

  return async (surveyId, designed, caseName) => {
    const digests = new Map<ComplexId, string>();
    const turn = takeTurns();
    for (const { network, design } of designed) {
      digests.set(network.complex.id, digestDesign(network, design));
      await turn();
    }
    const name = (await store.findSurvey(surveyId))?.name ?? surveyId;
    const ids: string[] = [];
    for (const part of split([...digests])) {
      const id = nameJob([edition, surveyId, caseName, part]);
      ids.push(id);
      await ask(id, {
        kind: 'drives',
        name,
        startedAt: now().toISOString(),
        forSurvey: surveyId,
        complexIds: part.map(([complexId]) => complexId),
        ...(caseName === undefined ? {} : { caseName }),
      });
    }
    const driven = (await Promise.all(ids.map(take))).flat();
    const meant = driven.filter(({ id, digest }) => digests.get(id) === digest);
    return new Map(meant.map(({ id, failures }) => [id, failures]));
  };
}

function* split<T>(all: readonly T[]): Generator<readonly T[]> {
  for (let i = 0; i < all.length; i += PER_JOB) yield all.slice(i, i + PER_JOB);
}

function nameJob(of: unknown): string {
  return createHash('sha256').update(JSON.stringify(of)).digest('base64url').slice(0, 32);
}

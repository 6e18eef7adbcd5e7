import type { Kysely } from 'kysely';
import type { Tables } from '../store/tables.ts';
import type { JobQueue } from './job-queue.ts';

/** The queue of the one server that has the store to itself: the rows themselves, the oldest first. */
export function createOwnQueue(db: Kysely<Tables>): JobQueue {
  return {
    // It hears of every job that waits; asking is for what it may have missed.
    pollMs: 5000,
    async add() {},
    async take() {
      const row = await db
        .selectFrom('jobs')
        .select('id')
        .where('state', '=', 'waiting')
        .orderBy('seq')
        .orderBy('id')
        .limit(1)
        .executeTakeFirst();
      return row === undefined ? undefined : { jobId: row.id, settle: async () => {} };
    },
    async close() {},
  };
}

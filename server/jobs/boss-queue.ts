import { CompiledQuery, type Transaction } from 'kysely';
import { Pool } from 'pg';
import PgBoss from 'pg-boss';
import type { Tables } from '../store/tables.ts';
import type { JobQueue } from './job-queue.ts';

const SCHEMA = 'boremark_queue';
const QUEUE = 'jobs';

/** A ticket that was handed out to somebody who died before he began is handed out again after so long. */
const EXPIRE_S = 60;
const RETRIES = 20;
/** Jobs wait for as long as it takes; the library would forget them after two weeks. */
const RETENTION_DAYS = 3650;
const MAINTENANCE_S = 60;

/**
 * The queue that servers and workers on one database share, by pg-boss in a schema of its own. It only hands out the
 * ids: a ticket is done when somebody has become the job's runner, and from then on that one's heartbeat counts.
 * Throws where the database refuses.
 */
export async function openBossQueue(url: string, onError: (error: Error) => void): Promise<JobQueue> {
  const pool = new Pool({ connectionString: url, max: 2 });
  pool.on('error', onError);
  const boss = new PgBoss({
    db: { executeSql: (text, values) => ask(pool, text, values) },
    schema: SCHEMA,
    schedule: false,
    maintenanceIntervalSeconds: MAINTENANCE_S,
  });
  boss.on('error', onError);
  const stop = async () => {
    await boss.stop({ graceful: false });
    await pool.end();
  };
  try {
    await oneAtATime(pool, async () => {
      await boss.start();
      await boss.createQueue(QUEUE);
    });
  } catch (error) {
    // Its timers would keep a process alive that has nothing to do.
    await stop().catch(onError);
    throw error;
  }
  return {
    pollMs: 500,
    async add(trx, jobId, wasBegun) {
      await boss.send(
        QUEUE,
        { jobId },
        {
          db: within(trx),
          priority: wasBegun ? 1 : 0,
          expireInSeconds: EXPIRE_S,
          retryLimit: RETRIES,
          retentionDays: RETENTION_DAYS,
        },
      );
    },
    async take() {
      const [ticket] = await boss.fetch<{ jobId: string }>(QUEUE);
      if (ticket === undefined) return undefined;
      return {
        jobId: ticket.data.jobId,
        async settle(trx) {
          await boss.complete(QUEUE, ticket.id, {}, { db: within(trx) });
        },
      };
    },
    close: stop,
  };
}

/** Servers that start together on a new database would lock each other's tables while the library makes them. */
async function oneAtATime(pool: Pool, work: () => Promise<void>): Promise<void> {
  const client = await pool.connect();
  try {
    await client.query('select pg_advisory_lock(hashtext($1))', [SCHEMA]);
    await work();
    await client.query('select pg_advisory_unlock(hashtext($1))', [SCHEMA]);
    client.release();
  } catch (error) {
    // The lock ends with the connection.
    client.release(true);
    throw error;
  }
}

/** The library begins transactions by text: after an error the connection may be left in one, and is let go. */
async function ask(pool: Pool, text: string, values: unknown[]): Promise<{ rows: unknown[] }> {
  const client = await pool.connect();
  try {
    const answer = await client.query(text, values);
    client.release();
    return answer;
  } catch (error) {
    client.release(true);
    throw error;
  }
}

function within(trx: Transaction<Tables>): PgBoss.Db {
  return {
    async executeSql(text, values) {
      const { rows } = await trx.executeQuery(CompiledQuery.raw(text, values));
      return { rows };
    },
  };
}

import { Kysely, PostgresDialect, sql } from 'kysely';
import { Pool } from 'pg';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { openBossQueue } from '../jobs/boss-queue.ts';
import { createChunkUploads } from '../jobs/chunk-uploads.ts';
import type { JobQueue } from '../jobs/job-queue.ts';
import { createChangeBus, type StoreChange } from './changes.ts';
import { CHANNEL, followChanges } from './follow-changes.ts';
import { createJobRows } from './job-rows.ts';
import { migrate } from './migrations.ts';
import type { OpenDatabase } from './open-embedded.ts';
import type { Commit } from './overtaken.ts';
import { createSqlStore } from './sql-store.ts';
import type { Store } from './store.ts';
import type { Tables } from './tables.ts';

const CONNECT_MS = 10_000;

/**
 * Opens the store that several servers share; refused as openPostgresDatabase.
 *
 * @param onError told of connections that broke while nobody used them; the next question opens another one.
 */
export async function openPostgres(
  url: string,
  now: () => Date,
  onError: (error: Error) => void,
): Promise<Result<Store>> {
  const opened = await openPostgresDatabase(url, onError);
  if (!opened.ok) return opened;
  const { db } = opened.value;
  const queue = await openQueue(url, onError);
  if (!queue.ok) {
    await opened.value.close();
    return queue;
  }
  const bus = createChangeBus();
  const stop = await followChanges(url, bus, onError);
  const close = () => Promise.all([stop(), queue.value.close()]).then(opened.value.close);
  const makeJobs = (commit: Commit) => ({
    rows: createJobRows(db, commit, queue.value),
    uploads: createChunkUploads(db, now),
    queue: queue.value,
    isShared: true,
  });
  return done(createSqlStore({ db, now, bus, announce, makeJobs, close }));
}

/**
 * Connects to a database and brings it to this version. Refused: `store-newer`, `store-unreachable` with the
 * database's words (never with the address, which may hold a password).
 */
export async function openPostgresDatabase(
  url: string,
  onError: (error: Error) => void,
): Promise<Result<OpenDatabase>> {
  const pool = new Pool({ connectionString: url, connectionTimeoutMillis: CONNECT_MS });
  pool.on('error', onError);
  const db = new Kysely<Tables>({ dialect: new PostgresDialect({ pool }) });
  const close = () => db.destroy();
  try {
    if ((await migrate(db, 'bytea')) === 'ready') return done({ db, close });
  } catch (error) {
    await close();
    return refused(refusal('store-unreachable', { reason: describe(error) }));
  }
  await close();
  return refused(refusal('store-newer'));
}

async function openQueue(url: string, onError: (error: Error) => void): Promise<Result<JobQueue>> {
  try {
    return done(await openBossQueue(url, onError));
  } catch (error) {
    return refused(refusal('store-unreachable', { reason: describe(error) }));
  }
}

/** Tells every server on the database of a change; inside a transaction, when that is committed. */
export async function announce(db: Kysely<Tables>, change: StoreChange): Promise<void> {
  await sql`select pg_notify(${CHANNEL}, ${JSON.stringify(change)})`.execute(db);
}

function describe(error: unknown): string {
  const { code, message } = error as { code?: string; message?: string };
  return message || code || String(error);
}

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { type DatabaseConnection, Kysely, SqliteAdapter, SqliteDialect, SqliteDriver } from 'kysely';
import Database from 'libsql';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { createChunkUploads } from '../jobs/chunk-uploads.ts';
import { createFolderUploads } from '../jobs/folder-uploads.ts';
import { createOwnQueue } from '../jobs/own-queue.ts';
import type { Uploads } from '../jobs/uploads.ts';
import { createChangeBus } from './changes.ts';
import { createJobRows } from './job-rows.ts';
import { migrate } from './migrations.ts';
import type { Commit } from './overtaken.ts';
import { createSqlStore } from './sql-store.ts';
import type { Store } from './store.ts';
import type { Tables } from './tables.ts';

/** The file that holds everything, in the data folder, and the one that only one server may hold. */
const STORE_FILE = 'boremark.db';
const LOCK_FILE = 'boremark.lock';
/** Files that wait to be read. */
const UPLOADS = 'uploads';

/**
 * Opens the store of one machine in `folder`, which is made where it is not there. Refused: `store-in-use` where
 * another server has it, `store-newer`, `store-unusable` where the folder cannot be written or the file is damaged.
 */
export async function openEmbedded(folder: string, now: () => Date): Promise<Result<Store>> {
  let unlock = () => {};
  try {
    // For nobody else on this machine.
    mkdirSync(folder, { recursive: true, mode: 0o700 });
    const lock = takeLock(join(folder, LOCK_FILE));
    if (lock === undefined) return refused(refusal('store-in-use', { folder }));
    unlock = () => lock.close();
    const opened = await openFile(toStoreFile(folder));
    if (!opened.ok) {
      unlock();
      return opened;
    }
    const { db, close } = opened.value;
    const makeJobs = makeOwnJobs(db, createFolderUploads(join(folder, UPLOADS)));
    const bus = createChangeBus();
    return done(createSqlStore({ db, now, bus, makeJobs, close: () => close().finally(unlock) }));
  } catch (error) {
    unlock();
    return refused(refusal('store-unusable', { folder, reason: (error as Error).message }));
  }
}

/** A store in memory, gone when it is closed. */
export async function openInMemory(now: () => Date = () => new Date()): Promise<Store> {
  const opened = await openFile(':memory:');
  if (!opened.ok) throw new Error(opened.refusal.code);
  const { db } = opened.value;
  const makeJobs = makeOwnJobs(db, createChunkUploads(db, now));
  return createSqlStore({ ...opened.value, now, bus: createChangeBus(), makeJobs });
}

/** Jobs of the one server that has the store to itself. */
const makeOwnJobs = (db: Kysely<Tables>, uploads: Uploads) => (commit: Commit) => {
  const queue = createOwnQueue(db);
  return { rows: createJobRows(db, commit, queue), uploads, queue, isShared: false };
};

/** The file of a data folder that holds everything. */
export function toStoreFile(folder: string): string {
  return join(folder, STORE_FILE);
}

/** A database that is of this program's version, and how to let it go. */
export type OpenDatabase = { readonly db: Kysely<Tables>; readonly close: () => Promise<void> };

/**
 * Opens a database file, which is made where it is not there, and brings it to this version; refused as
 * `store-newer`. Throws where the file cannot be used.
 */
export async function openFile(path: string): Promise<Result<OpenDatabase>> {
  const database = new Database(path);
  const db = new Kysely<Tables>({ dialect: new EmbeddedDialect(database) });
  const close = async () => {
    try {
      // One file is left, not one with what was written last beside it; on a full disk that stays, and is as good.
      database.exec('pragma wal_checkpoint(truncate)');
    } catch {}
    await db.destroy();
  };
  try {
    for (const pragma of PRAGMAS) database.exec(`pragma ${pragma}`);
    if ((await migrate(db, 'blob')) === 'ready') return done({ db, close });
  } catch (error) {
    await db.destroy();
    throw error;
  }
  await db.destroy();
  return refused(refusal('store-newer'));
}

/** Every commit is on the disk before it is acknowledged; whoever writes waits for others for a while. */
const PRAGMAS = [
  'busy_timeout = 5000',
  'journal_mode = wal',
  'synchronous = full',
  'foreign_keys = on',
] as const;

/** The lock goes with the process, however it ends: the operating system holds it. */
function takeLock(path: string): Database.Database | undefined {
  const lock = new Database(path);
  try {
    lock.exec('pragma busy_timeout = 200');
    lock.exec('begin exclusive');
    return lock;
  } catch (error) {
    lock.close();
    if ((error as { code?: string }).code === 'SQLITE_BUSY') return undefined;
    throw error;
  }
}

class EmbeddedDialect extends SqliteDialect {
  readonly #database: Database.Database;

  constructor(database: Database.Database) {
    super({ database: database as never });
    this.#database = database;
  }

  override createAdapter() {
    return new EmbeddedAdapter();
  }

  override createDriver() {
    return new EmbeddedDriver(this.#database);
  }
}

/** The library takes SQLite's changes of tables for ones that cannot be undone; they can. */
class EmbeddedAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl() {
    return true;
  }
}

class EmbeddedDriver extends SqliteDriver {
  readonly #database: Database.Database;

  constructor(database: Database.Database) {
    super({ database: database as never });
    this.#database = database;
  }

  /** Where the disk is full SQLite has undone the transaction itself, and its own error is the one to tell. */
  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    if (this.#database.inTransaction) await super.rollbackTransaction(connection);
  }
}

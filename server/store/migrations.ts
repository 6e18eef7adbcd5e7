import { type Kysely, type Migration, Migrator, sql } from 'kysely';
import type { Tables } from './tables.ts';

/** What a store's columns of bytes are called. */
export type ByteType = 'blob' | 'bytea';

/**
 * Brings a store to this program's version: forward only, each step whole and once, whichever of several servers
 * starts first. Answers 'newer', and changes nothing, where a later version of the program has written the store.
 */
export async function migrate(db: Kysely<Tables>, bytes: ByteType): Promise<'ready' | 'newer'> {
  if (await isNewer(db)) return 'newer';
  const getMigrations = async () => listMigrations(bytes);
  const { error } = await new Migrator({ db, provider: { getMigrations } }).migrateToLatest();
  if (error !== undefined) throw error;
  return 'ready';
}

/**
 * The steps by name, in the order of the names. A step that was released is never changed: add another one.
 * `BYTES` stands for the column type of bytes.
 */
const STEPS: Readonly<Record<string, readonly string[]>> = {
  '0001-surveys': [
    'create table store (id integer primary key, writes integer not null, generation integer not null)',
    'insert into store (id, writes, generation) values (1, 0, 0)',
    `create table surveys (id text primary key, created_at text not null, revision integer not null,
       head_revision integer not null, head text not null)`,
    `create table revisions (survey_id text not null references surveys (id) on delete cascade,
       revision integer not null, at text not null, made_by text, head text, primary key (survey_id, revision))`,
    'create table blobs (id text primary key, bytes BYTES not null)',
    `create table survey_blobs (survey_id text not null references surveys (id) on delete cascade,
       blob_id text not null references blobs (id), candidate integer not null,
       primary key (survey_id, blob_id, candidate))`,
    'create index survey_blobs_blob on survey_blobs (blob_id)',
    `create table schemes (key text primary key, survey_id text not null references surveys (id) on delete cascade,
       complex_id text not null, revision integer not null, written integer not null, since integer not null,
       ended integer)`,
    'create index schemes_survey on schemes (survey_id)',
    'create unique index schemes_current on schemes (survey_id, complex_id) where ended is null',
    `create table snapshots (scheme_key text not null references schemes (key) on delete cascade,
       written integer not null, body text not null, primary key (scheme_key, written))`,
    `create table commands (scheme_key text not null references schemes (key) on delete cascade,
       seq integer not null, command_id text not null, revision integer not null, body text not null,
       primary key (scheme_key, seq))`,
  ],
  '0002-accounts': [
    `create table accounts (id text primary key, email text not null unique, name text not null,
       email_verified integer not null, image text, role text not null, is_closed integer not null,
       created_at text not null, updated_at text not null)`,
    `create table passwords (id text primary key, account_id text not null references accounts (id) on delete cascade,
       subject text not null, provider text not null, password text, access_token text, refresh_token text,
       id_token text, access_expires_at text, refresh_expires_at text, scope text,
       created_at text not null, updated_at text not null)`,
    'create index passwords_account on passwords (account_id)',
    `create table sessions (id text primary key, account_id text not null references accounts (id) on delete cascade,
       token text not null unique, expires_at text not null, ip_address text, user_agent text,
       created_at text not null, updated_at text not null)`,
    'create index sessions_account on sessions (account_id)',
    `create table verifications (id text primary key, identifier text not null, value text not null,
       expires_at text not null, created_at text, updated_at text)`,
    'create table secrets (name text primary key, value text not null)',
    'create table attempts (counted_for text primary key, count integer not null, until text not null)',
    `create table shares (id text primary key, survey_id text not null references surveys (id) on delete cascade,
       token_hash text not null unique, label text not null, created_at text not null, created_by text,
       expires_at text not null, last_used_at text)`,
    'create index shares_survey on shares (survey_id)',
  ],
  '0004-views': [
    `create table survey_views (survey_id text primary key references surveys (id) on delete cascade,
       revision integer not null, edition text not null, body text not null)`,
  ],
  '0003-jobs': [
    `create table jobs (id text primary key, seq integer not null, kind text not null, state text not null,
       body text not null, progress text not null, refusal text, result BYTES, attempt integer not null, runner text,
       beats integer not null)`,
    `create table upload_chunks (upload_id text not null, seq integer not null, at text not null,
       bytes BYTES not null, primary key (upload_id, seq))`,
  ],
};

/** Whether a step was done that this program does not know. */
async function isNewer(db: Kysely<Tables>): Promise<boolean> {
  const tables = await db.introspection.getTables({ withInternalKyselyTables: true });
  if (!tables.some(({ name }) => name === 'kysely_migration')) return false;
  const done = await sql<{ name: string }>`select name from kysely_migration`.execute(db);
  return done.rows.some(({ name }) => !Object.hasOwn(STEPS, name));
}

function listMigrations(bytes: ByteType): Record<string, Migration> {
  const toMigration = (statements: readonly string[]): Migration => ({
    async up(db) {
      for (const statement of statements) await sql.raw(statement.replaceAll('BYTES', bytes)).execute(db);
    },
  });
  return Object.fromEntries(
    Object.entries(STEPS).map(([name, statements]) => [name, toMigration(statements)]),
  );
}

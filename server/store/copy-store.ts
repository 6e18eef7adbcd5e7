import { type Kysely, sql, type Transaction } from 'kysely';
import type { Tables } from './tables.ts';

/**
 * What is being done just now, and its files, belong to the servers that run, and not to what people made; so does what only spares them work, and who
 * is signed in: nobody gets in by an old backup's session.
 */
type NotCopied =
  | 'store'
  | 'jobs'
  | 'survey_views'
  | 'upload_chunks'
  | 'sessions'
  | 'secrets'
  | 'attempts'
  | 'verifications';

/** Every other table by what its rows are known by, those that others name first. */
const KEYS = {
  blobs: ['id'],
  surveys: ['id'],
  revisions: ['survey_id', 'revision'],
  survey_blobs: ['survey_id', 'blob_id', 'candidate'],
  schemes: ['key'],
  snapshots: ['scheme_key', 'written'],
  commands: ['scheme_key', 'seq'],
  shares: ['id'],
  accounts: ['id'],
  passwords: ['id'],
} as const satisfies { readonly [K in Exclude<keyof Tables, NotCopied>]: readonly (keyof Tables[K])[] };

/** Rows that are held in memory at once; a blob may be large. */
const PER_PAGE = 500;
const BLOBS_PER_PAGE = 4;

/**
 * Lets everything that `from` holds take the place of everything in `to`: all of it or nothing, and as it stood at
 * one moment. Both have to be of this program's version.
 */
export async function copyStore(from: Kysely<Tables>, to: Kysely<Tables>): Promise<void> {
  await from
    .transaction()
    .setIsolationLevel('repeatable read')
    .execute((source) => to.transaction().execute((target) => copyAll(source, target)));
}

async function copyAll(source: Transaction<Tables>, target: Transaction<Tables>): Promise<void> {
  // First of all, so that whoever writes meanwhile waits; and whoever has read before reads anew.
  await target
    .updateTable('store')
    .set((part) => ({ writes: part('writes', '+', 1), generation: part('generation', '+', 1) }))
    .execute();
  await target.deleteFrom('surveys').execute();
  await target.deleteFrom('blobs').execute();
  // Where the other store has none, nobody is locked out of this one.
  const hasAccounts = await source.selectFrom('accounts').select('id').limit(1).executeTakeFirst();
  if (hasAccounts !== undefined) await target.deleteFrom('accounts').execute();
  for (const [table, keys] of Object.entries(KEYS)) {
    const perPage = table === 'blobs' ? BLOBS_PER_PAGE : PER_PAGE;
    for await (const rows of readPages(source, table, keys, perPage)) {
      await target
        .insertInto(table as 'blobs')
        .values(rows as never)
        .execute();
    }
  }
}

type Row = Record<string, unknown>;

async function* readPages(
  db: Kysely<Tables>,
  table: string,
  keys: readonly string[],
  perPage: number,
): AsyncGenerator<readonly Row[]> {
  const names = sql.join(keys.map((key) => sql.ref(key)));
  let last: Row | undefined;
  for (;;) {
    const after = last;
    const beyond =
      after === undefined ? sql`` : sql`where (${names}) > (${sql.join(keys.map((key) => after[key]))})`;
    const { rows } = await sql<Row>`
      select * from ${sql.table(table)} ${beyond} order by ${names} limit ${sql.lit(perPage)}`.execute(db);
    if (rows.length > 0) yield rows.map(withBytes);
    if (rows.length < perPage) return;
    last = rows.at(-1);
  }
}

/** One driver answers with an ArrayBuffer, which none of them takes. */
function withBytes(row: Row): Row {
  return row.bytes instanceof ArrayBuffer ? { ...row, bytes: new Uint8Array(row.bytes) } : row;
}

import type { Kysely } from 'kysely';
import type { AccountView } from '../../shared/wire/accounts.ts';
import type { Tables } from '../store/tables.ts';

/** All accounts by e-mail address, or the one with that id, with the sessions that hold at `now`. */
export async function listAccounts(db: Kysely<Tables>, now: Date, id?: string): Promise<AccountView[]> {
  let asked = db
    .selectFrom('accounts')
    .leftJoin('sessions', (join) =>
      join.onRef('sessions.account_id', '=', 'accounts.id').on('sessions.expires_at', '>', now.toISOString()),
    )
    .select((part) => [
      'accounts.id',
      'accounts.email',
      'accounts.name',
      'accounts.role',
      'accounts.is_closed',
      'accounts.created_at',
      part.fn.count<number | string>('sessions.id').as('sessions'),
      part.fn.max('sessions.updated_at').as('seen'),
    ])
    .groupBy([
      'accounts.id',
      'accounts.email',
      'accounts.name',
      'accounts.role',
      'accounts.is_closed',
      'accounts.created_at',
    ]);
  if (id !== undefined) asked = asked.where('accounts.id', '=', id);
  const rows = await asked.orderBy('accounts.email').execute();
  return rows.map((row) => ({
    id: row.id,
    email: row.email,
    name: row.name,
    role: row.role,
    isClosed: row.is_closed === 1,
    createdAt: row.created_at,
    ...(row.seen === null ? {} : { lastSeenAt: row.seen }),
    // One of the drivers answers counts as text.
    sessions: Number(row.sessions),
  }));
}

import { createHash, randomBytes, randomUUID } from 'node:crypto';
import type { Kysely } from 'kysely';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type { MadeShare, NewShare, ShareView } from '../../shared/wire/accounts.ts';
import type { Tables } from '../store/tables.ts';

const DAY_MS = 24 * 3600_000;
/** How old what is kept of a link's last use may be. */
const USED_MS = 10 * 60_000;

/** What a link shows. */
export type Shared = { readonly id: string; readonly surveyId: string; readonly expiresAt: string };

export type Shares = ReturnType<typeof createShares>;

/** Links that show one survey to whoever has them; they are asked of the store each time, and end at once. */
export function createShares(db: Kysely<Tables>, now: () => Date) {
  return {
    /** What a token shows; undefined where it has expired, was taken back, or never was. */
    async find(token: string): Promise<Shared | undefined> {
      const row = await db
        .selectFrom('shares')
        .select(['id', 'survey_id', 'expires_at', 'last_used_at'])
        .where('token_hash', '=', hash(token))
        .where('expires_at', '>', now().toISOString())
        .executeTakeFirst();
      if (row === undefined) return undefined;
      const at = now();
      if (row.last_used_at === null || at.getTime() - Date.parse(row.last_used_at) > USED_MS) {
        await db
          .updateTable('shares')
          .set({ last_used_at: at.toISOString() })
          .where('id', '=', row.id)
          .execute();
      }
      return { id: row.id, surveyId: row.survey_id, expiresAt: row.expires_at };
    },

    /** The links to a survey that hold, the newest first. */
    async list(surveyId: string): Promise<readonly ShareView[]> {
      const rows = await db
        .selectFrom('shares')
        .leftJoin('accounts', 'accounts.id', 'shares.created_by')
        .select([
          'shares.id',
          'shares.label',
          'shares.created_at',
          'shares.expires_at',
          'shares.last_used_at',
          'accounts.name as by',
        ])
        .where('survey_id', '=', surveyId)
        .where('expires_at', '>', now().toISOString())
        .orderBy('shares.created_at', 'desc')
        .execute();
      return rows.map((row) => ({
        id: row.id,
        label: row.label,
        createdAt: row.created_at,
        ...(row.by === null ? {} : { createdBy: row.by }),
        expiresAt: row.expires_at,
        ...(row.last_used_at === null ? {} : { lastUsedAt: row.last_used_at }),
      }));
    },

    /** Makes a link of 256 random bits; the store keeps only their hash. */
    async make(
      surveyId: string,
      { label, days }: NewShare,
      by: { readonly id: string; readonly name: string },
    ): Promise<MadeShare> {
      const token = randomBytes(32).toString('base64url');
      const at = now();
      const share = {
        id: randomUUID(),
        label,
        createdAt: at.toISOString(),
        expiresAt: new Date(at.getTime() + days * DAY_MS).toISOString(),
      };
      await db
        .insertInto('shares')
        .values({
          id: share.id,
          survey_id: surveyId,
          token_hash: hash(token),
          label,
          created_at: share.createdAt,
          created_by: by.id,
          expires_at: share.expiresAt,
          last_used_at: null,
        })
        .execute();
      return { share: { ...share, createdBy: by.name }, token };
    },

    /** Takes a link back; refused as `share-unknown`. */
    async end(surveyId: string, id: string): Promise<Result<null>> {
      const { numDeletedRows } = await db
        .deleteFrom('shares')
        .where('id', '=', id)
        .where('survey_id', '=', surveyId)
        .executeTakeFirst();
      return numDeletedRows === 0n ? refused(refusal('share-unknown')) : done(null);
    },
  };
}

/** A token is long and random: a plain hash cannot be turned back. */
function hash(token: string): string {
  return createHash('sha256').update(token).digest('hex');
}

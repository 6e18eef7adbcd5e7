import { type Kysely, sql } from 'kysely';
import { type Refusal, refusal } from '../../shared/outcome/refusal.ts';
import type { Tables } from '../store/tables.ts';

const WINDOW_MS = 15 * 60_000;
/** For one account, wherever they come from; from one address, for whichever accounts. */
const MOST_FOR_ACCOUNT = 10;
const MOST_FROM_ADDRESS = 50;

export type SignInLimits = {
  /** Counts an attempt before it is made, so that many at once do not slip through; refused as `sign-in-too-often`. */
  count(email: string, address: string | undefined): Promise<Refusal | undefined>;
  /** Forgets an account's attempts after one that was right. */
  forget(email: string): Promise<void>;
};

/** Counts in the store: the limit is one for all servers on it. */
export function createSignInLimits(db: Kysely<Tables>, now: () => Date): SignInLimits {
  const add = async (countedFor: string, most: number): Promise<Refusal | undefined> => {
    const at = now();
    const until = new Date(at.getTime() + WINDOW_MS).toISOString();
    const isOver = sql<boolean>`attempts.until < ${at.toISOString()}`;
    const counted = await db
      .insertInto('attempts')
      .values({ counted_for: countedFor, count: 1, until })
      .onConflict((conflict) =>
        conflict.column('counted_for').doUpdateSet({
          count: sql`case when ${isOver} then 1 else attempts.count + 1 end`,
          until: sql`case when ${isOver} then ${until} else attempts.until end`,
        }),
      )
      .returning(['count', 'until'])
      .executeTakeFirstOrThrow();
    if (counted.count <= most) return undefined;
    const minutes = Math.max(1, Math.ceil((Date.parse(counted.until) - at.getTime()) / 60_000));
    return refusal('sign-in-too-often', { minutes });
  };

  return {
    async count(email, address) {
      await db.deleteFrom('attempts').where('until', '<', now().toISOString()).execute();
      const fromAddress =
        address === undefined ? undefined : await add(`address ${address}`, MOST_FROM_ADDRESS);
      return fromAddress ?? add(toKey(email), MOST_FOR_ACCOUNT);
    },
    async forget(email) {
      await db.deleteFrom('attempts').where('counted_for', '=', toKey(email)).execute();
    },
  };
}

const toKey = (email: string) => `account ${email.trim().toLowerCase()}`;

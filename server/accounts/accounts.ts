import type { Kysely } from 'kysely';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import type {
  AccountPatch,
  AccountView,
  ChangePassword,
  MadePassword,
  NewAccount,
  OwnAccount,
  SessionList,
  SignIn,
} from '../../shared/wire/accounts.ts';
import type { Tables } from '../store/tables.ts';
import { listAccounts } from './account-rows.ts';
import { checkPassword, makePassword } from './check-password.ts';
import { openAuth } from './open-auth.ts';
import { createSignInLimits } from './sign-in-limits.ts';

/** Somebody who is signed in. */
export type SignedIn = { readonly account: OwnAccount; readonly sessionId: string };

export type Accounts = Awaited<ReturnType<typeof createAccounts>>;

/** Accounts and their sessions. Everything is asked of the store each time: what is taken away holds no longer at once. */
export async function createAccounts(db: Kysely<Tables>, publicUrl: string, now: () => Date) {
  const auth = await openAuth(db, publicUrl);
  const { internalAdapter, password: hashing } = await auth.$context;
  const limits = createSignInLimits(db, now);

  const find = async (id: string): Promise<Result<AccountView>> => {
    const [account] = await listAccounts(db, now(), id);
    return account === undefined ? refused(refusal('account-unknown')) : done(account);
  };

  const endSessions = (accountId: string) =>
    db.deleteFrom('sessions').where('account_id', '=', accountId).execute();

  const whoIs = async (headers: Headers): Promise<SignedIn | undefined> => {
    const found = await auth.api.getSession({ headers });
    if (found === null || found.user.isClosed) return undefined;
    const { id, email, name, role } = found.user;
    return {
      account: { id, email, name, role: role as OwnAccount['role'] },
      sessionId: found.session.id,
    };
  };

  return {
    /** Who a request's cookie belongs to. */
    whoIs,

    /** The cookies that a browser gets; refused as `sign-in-wrong` and `sign-in-too-often`. */
    async signIn(
      { email, password }: SignIn,
      from: { readonly address?: string; readonly userAgent?: string },
    ): Promise<Result<{ account: OwnAccount; cookies: readonly string[] }>> {
      const tooOften = await limits.count(email, from.address);
      if (tooOften !== undefined) return refused(tooOften);
      const headers = new Headers(from.userAgent === undefined ? {} : { 'user-agent': from.userAgent });
      const body = { email: email.trim(), password };
      const answer = await auth.api.signInEmail({ body, headers, asResponse: true });
      if (!answer.ok) return refused(refusal('sign-in-wrong'));
      const cookies = answer.headers.getSetCookie();
      const signedIn = await whoIs(toCookieHeader(cookies));
      if (signedIn === undefined) {
        // A closed account keeps no session.
        const closed = await db
          .selectFrom('accounts')
          .select('id')
          .where('email', '=', body.email.toLowerCase())
          .executeTakeFirst();
        if (closed !== undefined) await endSessions(closed.id);
        return refused(refusal('sign-in-wrong'));
      }
      await limits.forget(email);
      return done({ account: signedIn.account, cookies });
    },

    /** Ends the session of a request; answers the cookies that take it from the browser. */
    async signOut(headers: Headers): Promise<readonly string[]> {
      const answer = await auth.api.signOut({ headers, asResponse: true });
      return answer.headers.getSetCookie();
    },

    /** Ends all sessions but this one. Refused as `password-wrong`, counted as an attempt to sign in, and `password-weak`. */
    async changePassword(
      { account, sessionId }: SignedIn,
      { currentPassword, newPassword }: ChangePassword,
    ): Promise<Result<null>> {
      const tooOften = await limits.count(account.email, undefined);
      if (tooOften !== undefined) return refused(tooOften);
      const kept = await db
        .selectFrom('passwords')
        .select('password')
        .where('account_id', '=', account.id)
        .executeTakeFirst();
      const isRight = await hashing.verify({ hash: kept?.password ?? '', password: currentPassword });
      if (!isRight) return refused(refusal('password-wrong'));
      await limits.forget(account.email);
      const weak = checkPassword(newPassword, account.email);
      if (weak !== undefined) return refused(weak);
      await internalAdapter.updatePassword(account.id, await hashing.hash(newPassword));
      await db
        .deleteFrom('sessions')
        .where('account_id', '=', account.id)
        .where('id', '!=', sessionId)
        .execute();
      return done(null);
    },

    /** The sessions of an account that hold, the latest used first. */
    async listSessions({ account, sessionId }: SignedIn): Promise<SessionList> {
      const rows = await db
        .selectFrom('sessions')
        .select(['id', 'created_at', 'updated_at', 'user_agent'])
        .where('account_id', '=', account.id)
        .where('expires_at', '>', now().toISOString())
        .orderBy('updated_at', 'desc')
        .execute();
      const sessions = rows.map((row) => ({
        id: row.id,
        createdAt: row.created_at,
        lastSeenAt: row.updated_at,
        ...(row.user_agent ? { userAgent: row.user_agent.slice(0, 300) } : {}),
        isThis: row.id === sessionId,
      }));
      return { sessions };
    },

    /** Ends one session of an account; refused as `session-unknown`. */
    async endSession(accountId: string, sessionId: string): Promise<Result<null>> {
      const { numDeletedRows } = await db
        .deleteFrom('sessions')
        .where('id', '=', sessionId)
        .where('account_id', '=', accountId)
        .executeTakeFirst();
      return numDeletedRows === 0n ? refused(refusal('session-unknown')) : done(null);
    },

    list: (): Promise<readonly AccountView[]> => listAccounts(db, now()),

    /** What the accounts are called, by their ids. */
    async names(ids: ReadonlySet<string>): Promise<ReadonlyMap<string, string>> {
      if (ids.size === 0) return new Map();
      const rows = await db
        .selectFrom('accounts')
        .select(['id', 'name'])
        .where('id', 'in', [...ids])
        .execute();
      return new Map(rows.map(({ id, name }) => [id, name]));
    },

    /** Makes an account with a password of ours; refused as `account-known`. */
    async add({ email, name, role }: NewAccount): Promise<Result<MadePassword>> {
      const address = email.toLowerCase();
      const known = await db
        .selectFrom('accounts')
        .select('id')
        .where('email', '=', address)
        .executeTakeFirst();
      if (known !== undefined) return refused(refusal('account-known', { email: address }));
      const password = makePassword();
      const hash = await hashing.hash(password);
      const user = { email: address, name, emailVerified: true, role, isClosed: false };
      const { id } = await internalAdapter.createUser(user, { method: 'admin' });
      await internalAdapter.linkAccount({
        userId: id,
        providerId: 'credential',
        accountId: id,
        password: hash,
      });
      const made = await find(id);
      return made.ok ? done({ account: made.value, password }) : made;
    },

    /** Changes an account at once, also for those who are signed in; refused as `account-last-administrator`. */
    async change(id: string, { name, role, isClosed }: AccountPatch): Promise<Result<AccountView>> {
      const isDone = await db
        .transaction()
        .execute(async (trx) => {
          // One at a time: two administrators might take the right from each other.
          await trx
            .updateTable('store')
            .set((part) => ({ writes: part('writes', '+', 1) }))
            .execute();
          await trx
            .updateTable('accounts')
            .set({
              updated_at: now().toISOString(),
              ...(name === undefined ? {} : { name }),
              ...(role === undefined ? {} : { role }),
              ...(isClosed === undefined ? {} : { is_closed: isClosed ? (1 as const) : (0 as const) }),
            })
            .where('id', '=', id)
            .execute();
          const left = await trx
            .selectFrom('accounts')
            .select('id')
            .where('role', '=', 'administrator')
            .where('is_closed', '=', 0)
            .limit(1)
            .executeTakeFirst();
          if (left === undefined) throw new NoneLeft();
          if (isClosed === true) await trx.deleteFrom('sessions').where('account_id', '=', id).execute();
        })
        .then(
          () => true,
          (error: unknown) => {
            if (error instanceof NoneLeft) return false;
            throw error;
          },
        );
      return isDone ? find(id) : refused(refusal('account-last-administrator'));
    },

    /** Gives an account a new password of ours and ends its sessions. */
    async renewPassword(id: string): Promise<Result<MadePassword>> {
      const found = await find(id);
      if (!found.ok) return found;
      const password = makePassword();
      await internalAdapter.updatePassword(id, await hashing.hash(password));
      await endSessions(id);
      await limits.forget(found.value.email);
      return done({ account: { ...found.value, sessions: 0 }, password });
    },

    async endSessions(id: string): Promise<Result<null>> {
      const found = await find(id);
      if (!found.ok) return found;
      await endSessions(id);
      return done(null);
    },

    find,
  };
}

class NoneLeft extends Error {}

/** Set-Cookie lines as a browser sends them back. */
function toCookieHeader(cookies: readonly string[]): Headers {
  return new Headers({ cookie: cookies.map((cookie) => cookie.split(';')[0]).join('; ') });
}

import { randomBytes } from 'node:crypto';
import { betterAuth } from 'better-auth';
import type { Kysely } from 'kysely';
import type { Tables } from '../store/tables.ts';
import { LONGEST_PASSWORD, SHORTEST_PASSWORD } from './check-password.ts';

/** A session ends when nobody used it for a night's work and the day after. */
const SESSION_S = 24 * 3600;
/** How old what is kept of a session's last use may be. */
const SEEN_S = 600;

export type Auth = Awaited<ReturnType<typeof openAuth>>;

/**
 * The library that hashes passwords and keeps sessions, over our own tables. Nobody makes an account for himself, it
 * sends nothing anywhere, and its own routes are not served: ours ask it.
 *
 * @param publicUrl where people open the page; over https its cookie goes nowhere else.
 */
export async function openAuth(db: Kysely<Tables>, publicUrl: string) {
  const times = { createdAt: 'created_at', updatedAt: 'updated_at' };
  const text = { type: 'string', required: true, input: false } as const;
  const flag = { type: 'boolean', required: true, input: false } as const;
  return betterAuth({
    // Times as text and flags as numbers in every store, as our other tables have them.
    database: { db: db as Kysely<never>, type: 'sqlite' },
    secret: await getSecret(db),
    baseURL: publicUrl,
    telemetry: { enabled: false },
    logger: { disabled: true },
    // Counted by sign-in-limits.ts, for the account too.
    rateLimit: { enabled: false },
    emailAndPassword: {
      enabled: true,
      disableSignUp: true,
      minPasswordLength: SHORTEST_PASSWORD,
      maxPasswordLength: LONGEST_PASSWORD,
    },
    user: {
      modelName: 'accounts',
      fields: { emailVerified: 'email_verified', ...times },
      additionalFields: { role: text, isClosed: { ...flag, fieldName: 'is_closed' } },
    },
    session: {
      modelName: 'sessions',
      fields: {
        userId: 'account_id',
        expiresAt: 'expires_at',
        ipAddress: 'ip_address',
        userAgent: 'user_agent',
        ...times,
      },
      expiresIn: SESSION_S,
      updateAge: SEEN_S,
    },
    account: {
      modelName: 'passwords',
      fields: {
        userId: 'account_id',
        accountId: 'subject',
        providerId: 'provider',
        accessToken: 'access_token',
        refreshToken: 'refresh_token',
        idToken: 'id_token',
        accessTokenExpiresAt: 'access_expires_at',
        refreshTokenExpiresAt: 'refresh_expires_at',
        ...times,
      },
    },
    verification: { modelName: 'verifications', fields: { expiresAt: 'expires_at', ...times } },
    advanced: {
      cookiePrefix: 'boremark',
      useSecureCookies: publicUrl.startsWith('https:'),
      defaultCookieAttributes: { sameSite: 'strict' },
      // Of people's addresses nothing is kept.
      ipAddress: { disableIpTracking: true },
    },
  });
}

/** Made once for a store, so that all its servers know each other's sessions. */
async function getSecret(db: Kysely<Tables>): Promise<string> {
  await db
    .insertInto('secrets')
    .values({ name: 'sessions', value: randomBytes(32).toString('base64url') })
    .onConflict((conflict) => conflict.column('name').doNothing())
    .execute();
  const kept = await db
    .selectFrom('secrets')
    .select('value')
    .where('name', '=', 'sessions')
    .executeTakeFirstOrThrow();
  return kept.value;
}

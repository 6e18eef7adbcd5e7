import type { Context, Next } from 'hono';
import { getCookie } from 'hono/cookie';
import { refusal } from '../../shared/outcome/refusal.ts';
import type { OwnAccount } from '../../shared/wire/accounts.ts';
import { runAs } from '../acting.ts';
import { toProblem } from '../problem.ts';
import type { Accounts, SignedIn } from './accounts.ts';
import type { Shared, Shares } from './shares.ts';
import { findPermission, isEnough } from './who-may.ts';

/** How people sign in; a server without it is for whoever sits at its machine. */
export type Login = {
  readonly accounts: Accounts;
  readonly shares: Shares;
  /** Where people open the page. */
  readonly publicUrl: string;
  /** Whether a proxy in front tells where a request comes from. */
  readonly isBehindProxy: boolean;
};

/** Who asks. */
export type Visitor =
  | { readonly kind: 'local' }
  | { readonly kind: 'nobody' }
  | { readonly kind: 'account'; readonly account: OwnAccount; readonly sessionId: string }
  | { readonly kind: 'share'; readonly share: Shared };

declare module 'hono' {
  interface ContextVariableMap {
    visitor: Visitor;
    /** For answers that last: whether who asked may still ask. */
    stillMay: () => Promise<boolean>;
  }
}

/** The cookie that holds a share link's token. */
export const SHARE_COOKIE = 'boremark.share';

/**
 * Lets a request pass that its visitor may ask, in the visitor's name; refused as `sign-in-needed`, `not-permitted`,
 * and `survey-unknown` where a link shows another survey.
 */
export function guard(login: Login | undefined) {
  return async (c: Context, next: Next): Promise<Response | undefined> => {
    if (login === undefined) {
      if (NEEDS_ACCOUNTS.test(c.req.path) && !(c.req.method === 'GET' && c.req.path === '/api/session')) {
        return toProblem(c, refusal('accounts-off'));
      }
      c.set('visitor', { kind: 'local' });
      c.set('stillMay', async () => true);
      await next();
      return undefined;
    }
    const may = findPermission(c.req.method, c.req.path);
    if (may === undefined) return toProblem(c, refusal('not-found', { path: c.req.path }));
    const isPlain = may.role === 'anyone' && !c.req.path.startsWith('/api/session');
    const visitor: Visitor = isPlain ? { kind: 'nobody' } : await findVisitor(c, login);
    const refused = refuse(visitor, may);
    if (refused !== undefined) return toProblem(c, refused);
    c.set('visitor', visitor);
    c.set('stillMay', async () => refuse(await findVisitor(c, login), may) === undefined);
    await runAs(visitor.kind === 'account' ? visitor.account.id : undefined, next);
    return undefined;
  };
}

/** The account of a request that the guard lets only accounts make. */
export function getSignedIn(c: Context): SignedIn {
  const visitor = c.get('visitor');
  if (visitor.kind !== 'account') throw new Error('nobody is signed in');
  return visitor;
}

/** What there is only where people sign in. */
const NEEDS_ACCOUNTS = /^\/api\/(session|accounts?|surveys\/[^/]+\/shares)(\/|$)/;

function refuse(visitor: Visitor, may: NonNullable<ReturnType<typeof findPermission>>) {
  if (may.role === 'anyone') return undefined;
  if (visitor.kind === 'account') {
    return isEnough(visitor.account.role, may.role)
      ? undefined
      : refusal('not-permitted', { role: may.role });
  }
  if (visitor.kind !== 'share') return refusal('sign-in-needed');
  if (may.isShared !== true) return refusal('not-permitted', { role: may.role });
  const { surveyId } = may;
  const isOther = surveyId !== undefined && surveyId !== visitor.share.surveyId;
  return isOther ? refusal('survey-unknown', { id: surveyId }) : undefined;
}

/** An account before a link; programs may send a link's token as a bearer token. */
async function findVisitor(c: Context, { accounts, shares }: Login): Promise<Visitor> {
  const signedIn = await accounts.whoIs(c.req.raw.headers);
  if (signedIn !== undefined) return { kind: 'account', ...signedIn };
  const bearer = /^Bearer ([\w-]{20,100})$/.exec(c.req.header('authorization') ?? '')?.[1];
  const token = bearer ?? getCookie(c, SHARE_COOKIE);
  const share = token === undefined ? undefined : await shares.find(token);
  return share === undefined ? { kind: 'nobody' } : { kind: 'share', share };
}

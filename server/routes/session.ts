import { getConnInfo } from '@hono/node-server/conninfo';
import { createRoute, type OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { setCookie } from 'hono/cookie';
import { z } from 'zod';
import { refusal } from '../../shared/outcome/refusal.ts';
import {
  type ChangePassword,
  changePasswordSchema,
  openShareSchema,
  type SignIn,
  sessionListSchema,
  signInSchema,
  type Who,
  whoSchema,
} from '../../shared/wire/accounts.ts';
import { getSignedIn, type Login, SHARE_COOKIE } from '../accounts/visitor.ts';
import { toProblem } from '../problem.ts';
import { body, json, problems } from './route-parts.ts';

const sessionParam = z.object({ sessionId: z.string().max(64) });

/** Routes by which people sign in and out and keep their own account. */
export function addSessionRoutes(app: OpenAPIHono, getLogin: () => Login): void {
  addSession(app, getLogin);
  addOwnAccount(app, getLogin);
}

function addSession(app: OpenAPIHono, getLogin: () => Login): void {
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/session',
      summary: 'Who asks, and whether this server has accounts',
      responses: { 200: json(whoSchema, 'Who'), ...problems },
    }),
    (c) => c.json(toWho(c), 200),
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/session',
      summary: 'Sign in; the answer sets a cookie',
      request: body(signInSchema),
      responses: { 200: json(whoSchema, 'Who'), ...problems },
    }),
    async (c) => {
      const login = getLogin();
      const address = findAddress(c, login.isBehindProxy);
      const userAgent = c.req.header('user-agent')?.slice(0, 300);
      const signedIn = await login.accounts.signIn(c.req.valid('json') as SignIn, {
        ...(address === undefined ? {} : { address }),
        ...(userAgent === undefined ? {} : { userAgent }),
      });
      if (!signedIn.ok) return toProblem(c, signedIn.refusal) as never;
      setCookies(c, signedIn.value.cookies);
      return c.json({ mode: 'accounts' as const, account: signedIn.value.account }, 200);
    },
  );
  app.openapi(
    createRoute({
      method: 'post',
      path: '/api/session/share',
      summary:
        'Look at a survey by a share link; the answer sets a cookie. Programs may send the token as Bearer',
      request: body(openShareSchema),
      responses: { 200: json(whoSchema, 'Who'), ...problems },
    }),
    async (c) => {
      const login = getLogin();
      const { token } = c.req.valid('json') as z.infer<typeof openShareSchema>;
      const share = await login.shares.find(token);
      if (share === undefined) return toProblem(c, refusal('share-unknown')) as never;
      setCookie(c, SHARE_COOKIE, token, { ...cookieOf(login), expires: new Date(share.expiresAt) });
      const who = toWho(c);
      const { surveyId, expiresAt } = share;
      return c.json({ ...who, share: { surveyId, expiresAt } }, 200);
    },
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/session',
      summary: 'Sign out, or stop looking by a share link',
      responses: { 204: { description: 'Gone' }, ...problems },
    }),
    async (c) => {
      const login = getLogin();
      setCookies(c, await login.accounts.signOut(c.req.raw.headers));
      setCookie(c, SHARE_COOKIE, '', { ...cookieOf(login), maxAge: 0 });
      return c.body(null, 204);
    },
  );
}

function addOwnAccount(app: OpenAPIHono, getLogin: () => Login): void {
  app.openapi(
    createRoute({
      method: 'put',
      path: '/api/account/password',
      summary: 'Change one’s own password; all other sessions end',
      request: body(changePasswordSchema),
      responses: { 204: { description: 'Changed' }, ...problems },
    }),
    async (c) => {
      const request = c.req.valid('json') as ChangePassword;
      const changed = await getLogin().accounts.changePassword(getSignedIn(c), request);
      return (changed.ok ? c.body(null, 204) : toProblem(c, changed.refusal)) as never;
    },
  );
  app.openapi(
    createRoute({
      method: 'get',
      path: '/api/account/sessions',
      summary: 'Where one is signed in',
      responses: { 200: json(sessionListSchema, 'Sessions'), ...problems },
    }),
    async (c) => c.json(await getLogin().accounts.listSessions(getSignedIn(c)), 200),
  );
  app.openapi(
    createRoute({
      method: 'delete',
      path: '/api/account/sessions/{sessionId}',
      summary: 'End one of one’s own sessions',
      request: { params: sessionParam },
      responses: { 204: { description: 'Ended' }, ...problems },
    }),
    async (c) => {
      const { sessionId } = c.req.valid('param');
      const ended = await getLogin().accounts.endSession(getSignedIn(c).account.id, sessionId);
      return (ended.ok ? c.body(null, 204) : toProblem(c, ended.refusal)) as never;
    },
  );
}

function toWho(c: Context): Who {
  const visitor = c.get('visitor');
  switch (visitor.kind) {
    case 'local':
      return { mode: 'local' };
    case 'nobody':
      return { mode: 'accounts' };
    case 'account':
      return { mode: 'accounts', account: visitor.account };
    case 'share': {
      const { surveyId, expiresAt } = visitor.share;
      return { mode: 'accounts', share: { surveyId, expiresAt } };
    }
  }
}

function setCookies(c: Context, cookies: readonly string[]): void {
  for (const cookie of cookies) c.header('set-cookie', cookie, { append: true });
}

function cookieOf({ publicUrl }: Login) {
  return {
    path: '/',
    httpOnly: true,
    sameSite: 'Strict',
    secure: publicUrl.startsWith('https:'),
  } as const;
}

/** Where a request comes from: what a proxy added last is true, what stands before it anybody may have written. */
function findAddress(c: Context, isBehindProxy: boolean): string | undefined {
  if (isBehindProxy) return c.req.header('x-forwarded-for')?.split(',').at(-1)?.trim().slice(0, 64);
  try {
    return getConnInfo(c).remote.address;
  } catch {
    // Asked without a connection, by a test.
    return undefined;
  }
}

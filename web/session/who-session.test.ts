import { describe, expect, it } from 'vitest';
import type { Role, Who } from '../../shared/wire/accounts.ts';
import { createAccountApi } from './account-api.ts';
import { createAsk } from './ask.ts';
import { createWhoSession, toRights } from './who-session.ts';

const nobody: Who = { mode: 'accounts' };
const as = (role: Role, id = 'a'): Who => ({
  mode: 'accounts',
  account: { id, email: `${id}@example.org`, name: id, role },
});
const shared: Who = { mode: 'accounts', share: { surveyId: 'city', expiresAt: '2030-01-01T00:00:00Z' } };
const PASSWORD = 'four words in a row';

/** A server of one person and one link, asked through the real client. */
function open(given: { who?: Who; hash?: string } = {}) {
  const server = { who: given.who ?? nobody, account: as('planner'), isDown: false, asked: [] as string[] };
  const json = (body: unknown) =>
    new Response(JSON.stringify(body), { headers: { 'content-type': 'application/json' } });
  const problem = (status: number, code: string) =>
    new Response(JSON.stringify({ code, status, detail: `It is ${code}.`, context: {} }), {
      status,
      headers: { 'content-type': 'application/problem+json' },
    });
  const fetcher: typeof fetch = async (path, init = {}) => {
    const { method = 'GET', body } = init;
    server.asked.push(`${method} ${path}`);
    if (server.isDown) throw new TypeError('failed');
    const sent = body === undefined ? {} : JSON.parse(String(body));
    if (path === '/api/session/share') {
      if (sent.token !== 'held') return problem(404, 'share-unknown');
      server.who = shared;
    } else if (method === 'POST') {
      if (sent.password !== PASSWORD) return problem(401, 'sign-in-wrong');
      server.who = server.account;
    } else if (method === 'DELETE') {
      server.who = nobody;
      return new Response(null, { status: 204 });
    }
    return json(server.who);
  };
  const told: string[] = [];
  const page = {
    location: { hash: given.hash ?? '', pathname: '/', search: '?survey=x' },
    history: {
      replaceState: (_: unknown, __: string, url: string) => told.push(`address ${url}`),
    },
  } as unknown as Window;
  const session = createWhoSession({
    api: createAccountApi(createAsk(fetcher)),
    page,
    onShare: (surveyId) => told.push(`shows ${surveyId}`),
    onBack: () => told.push('back'),
    leave: () => told.push('left'),
  });
  const needed = () => session.heard({ code: 'sign-in-needed', status: 401, detail: '', context: {} });
  return { server, session, told, needed };
}

describe('who looks at the page', () => {
  it('is nobody in particular without login, and may edit', async () => {
    const { session } = open({ who: { mode: 'local' } });
    expect(session.get().status).toBe('loading');
    await session.start();
    expect(session.get()).toMatchObject({ status: 'known', who: { mode: 'local' } });
    expect(session.rights()).toEqual({ mayEdit: true, mayAdminister: false, maySeeHistory: true });
  });

  it.each([
    ['reader', false, false],
    ['crew', false, false],
    ['planner', true, false],
    ['administrator', true, true],
  ] as const)('as %s may edit: %s, administer: %s', (role, mayEdit, mayAdminister) => {
    expect(toRights(as(role))).toEqual({ mayEdit, mayAdminister, maySeeHistory: true });
  });

  it('may change nothing by a share link, or before a sign-in', () => {
    expect([toRights(shared).mayEdit, toRights(nobody).mayEdit]).toEqual([false, false]);
    expect(toRights(shared).maySeeHistory).toBe(false);
  });

  it('is asked again after the server was away', async () => {
    const { server, session } = open();
    server.isDown = true;
    await session.start();
    expect(session.get()).toMatchObject({ status: 'failed', problem: { code: 'unreachable' } });
    server.isDown = false;
    await session.start();
    expect(session.get()).toMatchObject({ status: 'known', problem: undefined });
  });
});

describe('signing in and out', () => {
  it('tells a wrong password and takes a right one', async () => {
    const { session } = open();
    await session.start();
    expect(await session.signIn('a@example.org', 'wrong')).toMatchObject({ code: 'sign-in-wrong' });
    expect(session.get().who.account).toBeUndefined();
    expect(await session.signIn('a@example.org', PASSWORD)).toBeUndefined();
    expect(session.get().who).toEqual(as('planner'));
  });

  it('leaves the page when signed out, and not where the server was not reached', async () => {
    const { server, session, told } = open({ who: as('reader') });
    await session.start();
    server.isDown = true;
    expect(await session.signOut()).toMatchObject({ code: 'unreachable' });
    expect(told).toEqual([]);
    server.isDown = false;
    await session.signOut();
    expect([server.who, told]).toEqual([nobody, ['left']]);
  });
});

describe('a session that ends', () => {
  it('asks for the password over the page, and goes on after it', async () => {
    const { server, session, told, needed } = open({ who: as('planner') });
    await session.start();
    server.who = nobody;
    needed();
    needed();
    // Who it was stays, and with it what they may do: unsaved edits wait.
    expect(session.get()).toMatchObject({ isEnded: true, asksSignIn: true, who: as('planner') });
    session.askSignIn(false);
    needed();
    expect(session.get()).toMatchObject({ isEnded: true, asksSignIn: false });
    await session.signIn('a@example.org', PASSWORD);
    expect(session.get()).toMatchObject({ isEnded: false, asksSignIn: false });
    expect(told).toEqual(['back']);
  });

  it('goes on, too, where they signed in in another window', async () => {
    const { session, told, needed } = open({ who: as('planner') });
    await session.start();
    needed();
    await session.reread();
    expect([session.get().isEnded, told]).toEqual([false, ['back']]);
  });

  it('leaves the page where somebody else has signed in: unsaved edits are not theirs', async () => {
    const { server, session, told, needed } = open({ who: as('planner') });
    await session.start();
    needed();
    server.account = as('planner', 'b');
    await session.signIn('b@example.org', PASSWORD);
    expect(told).toEqual(['left']);
    expect(session.get().who).toEqual(as('planner'));
  });

  it('follows a role that an administrator has taken', async () => {
    const { server, session } = open({ who: as('planner') });
    await session.start();
    server.who = as('reader');
    session.heard({ code: 'not-permitted', status: 403, detail: '', context: {} });
    await expect.poll(() => session.rights().mayEdit).toBe(false);
    expect(session.get().isEnded).toBe(false);
  });
});

describe('a share link', () => {
  it('is taken out of the address before anything is asked, and opened', async () => {
    const { server, session, told } = open({ hash: '#share=held' });
    expect([told, server.asked]).toEqual([['address /?survey=x'], []]);
    await session.start();
    expect(server.asked).toEqual(['POST /api/session/share']);
    expect(told).toEqual(['address /?survey=x', 'shows city']);
    expect(session.get()).toMatchObject({ status: 'known', who: shared });
  });

  it('that does not hold is told, and asks for a sign-in', async () => {
    const { session } = open({ hash: '#share=lost' });
    await session.start();
    expect(session.get()).toMatchObject({
      status: 'known',
      who: nobody,
      shareProblem: { code: 'share-unknown' },
    });
    await session.signIn('a@example.org', PASSWORD);
    expect(session.get().shareProblem).toBeUndefined();
  });

  it('is not lost while the server is away', async () => {
    const { server, session } = open({ hash: '#share=held' });
    server.isDown = true;
    await session.start();
    expect(session.get().status).toBe('failed');
    server.isDown = false;
    await session.start();
    expect(session.get().who).toEqual(shared);
  });

  it('that was taken back while it was looked through shows nothing any more', async () => {
    const { session, told, needed } = open({ hash: '#share=held' });
    await session.start();
    needed();
    expect(session.get()).toMatchObject({ who: nobody, hasShareEnded: true, isEnded: false });
    expect(told).not.toContain('left');
  });

  it('gives way to an account', async () => {
    const { session, told } = open({ hash: '#share=held' });
    await session.start();
    session.askSignIn(true);
    await session.signIn('a@example.org', PASSWORD);
    expect(session.get()).toMatchObject({ who: as('planner'), asksSignIn: false });
    expect(told).not.toContain('left');
  });
});

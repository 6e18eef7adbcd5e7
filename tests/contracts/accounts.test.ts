import { pino } from 'pino';
import { afterEach, describe, expect, it } from 'vitest';
import { createAccounts } from '../../server/accounts/accounts.ts';
import { createShares } from '../../server/accounts/shares.ts';
import { WHO_MAY } from '../../server/accounts/who-may.ts';
import { createApp } from '../../server/app.ts';
import type { Store } from '../../server/store/store.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import type { MadePassword, MadeShare, Role, SessionList, Who } from '../../shared/wire/accounts.ts';
import type { HistoryView } from '../../shared/wire/history.ts';
import { listStores } from './stores.ts';

/** Real time: the library asks the machine's clock, too. A test may set it forward. */
let aheadMs = 0;
const now = () => new Date(Date.now() + aheadMs);

const opened: Store[] = [];
afterEach(async () => {
  aheadMs = 0;
  for (const store of opened.splice(0)) await store.close();
});

const STORES = listStores(now);
const PUBLIC = 'https://beacons.example';

describe.each(STORES)('accounts in the %s store', (_, makeOpen) => {
  const create = async () => {
    const store = await makeOpen()();
    opened.push(store);
    for (const id of ['city', 'other']) await store.saveSurvey(survey(id), new Uint8Array([1]));
    const accounts = await createAccounts(store.db, PUBLIC, now);
    const login = { accounts, shares: createShares(store.db, now), publicUrl: PUBLIC, isBehindProxy: true };
    const { app } = createApp({
      store,
      overpass: { ask: async () => refused(refusal('overpass-busy')) },
      log: pino({ level: 'silent' }),
      uploadLimitBytes: 1e6,
      version: '0.0.0',
      now,
      names: ['beacons.example'],
      login,
    });
    const ask = async (method: string, path: string, { body, cookie, headers }: Asked = {}) =>
      app.request(`${PUBLIC}${path}`, {
        method,
        headers: {
          host: 'beacons.example',
          ...(cookie === undefined ? {} : { cookie }),
          ...(body === undefined ? {} : { 'content-type': 'application/json' }),
          ...headers,
        },
        ...(body === undefined ? {} : { body: JSON.stringify(body) }),
      });
    const add = async (email: string, role: Role) => {
      const made = await accounts.add({ email, name: `The ${role}`, role });
      if (!made.ok) throw new Error(made.refusal.code);
      return made.value;
    };
    const signIn = async (email: string, password: string) => {
      const answer = await ask('POST', '/api/session', { body: { email, password } });
      return { answer, cookie: toCookie(answer) };
    };
    /** A new account of a role that is signed in. */
    const enter = async (role: Role) => {
      const { account, password } = await add(`${role}@example.org`, role);
      return { account, password, ...(await signIn(account.email, password)) };
    };
    return { store, accounts, ask, add, signIn, enter };
  };

  it('without a session nothing of anybody is told, and nothing is changed', async () => {
    const { ask } = await create();
    for (const [route, { role }] of Object.entries(WHO_MAY)) {
      if (role === 'anyone') continue;
      const [method = '', path = ''] = route.split(' ');
      const answer = await ask(method, path.replace('{id}', 'city').replace(/\{\w+\}/g, '1'));
      expect([route, answer.status, await answer.json()]).toMatchObject([
        route,
        401,
        { code: 'sign-in-needed' },
      ]);
    }
    expect(await (await ask('GET', '/api/session')).json()).toEqual({ mode: 'accounts' });
    expect((await ask('GET', '/healthz')).status).toBe(200);
    expect((await ask('GET', '/api/anything')).status).toBe(404);
  });

  it('changes are taken from the page’s own address, whatever a proxy calls the server, and from no other', async () => {
    const { ask, enter } = await create();
    const { cookie } = await enter('planner');
    const from = async (origin: string, host: string) =>
      (await ask('DELETE', '/api/surveys/none', { cookie, headers: { origin, host } })).status;
    expect(await from(PUBLIC, 'localhost:4600')).toBe(404);
    expect(await from(PUBLIC, 'beacons.example')).toBe(404);
    expect(await from('https://elsewhere.example', 'beacons.example')).toBe(403);
    expect(await from('http://beacons.example:81', 'beacons.example')).toBe(403);
    expect(await from('null', 'localhost:4600')).toBe(403);
  });

  it('each role may do what its routes say, and no more', async () => {
    const { ask, enter } = await create();
    const ranks: readonly Role[] = ['reader', 'crew', 'planner', 'administrator'];
    for (const role of ranks) {
      const { cookie } = await enter(role);
      for (const [route, permission] of Object.entries(WHO_MAY)) {
        const [method = '', path = ''] = route.split(' ');
        // What is asked for is not there: whoever may ask is told so, or that the request is not complete.
        if (path === '/api/session' && method === 'DELETE') continue;
        const answer = await ask(method, path.replace('{id}', 'none').replace(/\{\w+\}/g, '1'), { cookie });
        const isLess = permission.role !== 'anyone' && ranks.indexOf(permission.role) > ranks.indexOf(role);
        expect([role, route, answer.status === 403]).toEqual([role, route, isLess]);
        if (isLess) expect(await answer.json()).toMatchObject({ code: 'not-permitted' });
      }
    }
  });

  it('are signed in by a cookie that scripts cannot read and other sites do not send', async () => {
    const { enter, ask } = await create();
    const { answer, cookie, account } = await enter('planner');
    expect(await answer.json()).toEqual({
      mode: 'accounts',
      account: { id: account.id, email: 'planner@example.org', name: 'The planner', role: 'planner' },
    });
    const set = answer.headers.getSetCookie().join('\n');
    for (const part of ['HttpOnly', 'Secure', 'SameSite=Strict', 'Path=/']) expect(set).toContain(part);
    const who = (await (await ask('GET', '/api/session', { cookie })).json()) as Who;
    expect(who.account?.id).toBe(account.id);
    const forged = cookie.replace(/.(?=\.)/, (letter) => (letter === 'a' ? 'b' : 'a'));
    expect((await ask('GET', '/api/surveys', { cookie: forged })).status).toBe(401);
  });

  it('end at once where the session is ended, the account closed or its password renewed', async () => {
    const { ask, enter, signIn, accounts } = await create();
    const admin = await enter('administrator');
    const one = await enter('planner');
    const isIn = async (cookie: string) => (await ask('GET', '/api/surveys', { cookie })).status === 200;
    const again = await signIn(one.account.email, one.password);
    const { sessions } = (await (
      await ask('GET', '/api/account/sessions', { cookie: again.cookie })
    ).json()) as SessionList;
    expect(sessions.map(({ isThis }) => isThis).sort()).toEqual([false, true]);
    const first = sessions.find(({ isThis }) => !isThis);
    const ended = await ask('DELETE', `/api/account/sessions/${first?.id}`, { cookie: again.cookie });
    expect([ended.status, await isIn(one.cookie), await isIn(again.cookie)]).toEqual([204, false, true]);
    // Somebody else's sessions are none of one's business.
    const strange = await ask(
      'DELETE',
      `/api/account/sessions/${sessions.find(({ isThis }) => isThis)?.id}`,
      {
        cookie: admin.cookie,
      },
    );
    expect([strange.status, await isIn(again.cookie)]).toEqual([404, true]);

    const path = `/api/accounts/${one.account.id}`;
    const renewed = (await (
      await ask('POST', `${path}/password`, { cookie: admin.cookie })
    ).json()) as MadePassword;
    expect(await isIn(again.cookie)).toBe(false);
    expect((await signIn(one.account.email, one.password)).answer.status).toBe(401);
    const third = await signIn(one.account.email, renewed.password);
    expect(await isIn(third.cookie)).toBe(true);

    await ask('PATCH', path, { cookie: admin.cookie, body: { isClosed: true } });
    expect(await isIn(third.cookie)).toBe(false);
    const closed = await signIn(one.account.email, renewed.password);
    expect([closed.answer.status, closed.cookie]).toEqual([401, '']);
    expect((await accounts.list()).find(({ id }) => id === one.account.id)?.sessions).toBe(0);

    expect((await ask('DELETE', '/api/session', { cookie: admin.cookie })).status).toBe(204);
    expect(await isIn(admin.cookie)).toBe(false);
  });

  it('hold another role at once, and the last administrator stays one', async () => {
    const { ask, enter } = await create();
    const admin = await enter('administrator');
    const reader = await enter('reader');
    const change = (cookie: string) =>
      ask('PATCH', '/api/surveys/city', { cookie, body: { name: 'Another name' } });
    expect((await change(reader.cookie)).status).toBe(403);
    await ask('PATCH', `/api/accounts/${reader.account.id}`, {
      cookie: admin.cookie,
      body: { role: 'planner' },
    });
    // The survey of the test has no tunnels, which has to be no fault of the permission.
    expect((await change(reader.cookie)).status).not.toBe(403);
    for (const body of [{ role: 'planner' }, { isClosed: true }]) {
      const answer = await ask('PATCH', `/api/accounts/${admin.account.id}`, { cookie: admin.cookie, body });
      expect([answer.status, await answer.json()]).toMatchObject([
        409,
        { code: 'account-last-administrator' },
      ]);
    }
    expect((await ask('GET', '/api/accounts', { cookie: admin.cookie })).status).toBe(200);
  });

  it('change their own password, which ends their other sessions', async () => {
    const { ask, enter, signIn } = await create();
    const { account, password, cookie } = await enter('crew');
    const other = await signIn(account.email, password);
    const change = (currentPassword: string, newPassword: string) =>
      ask('PUT', '/api/account/password', { cookie, body: { currentPassword, newPassword } });
    const codes: string[] = [];
    for (const [now, next] of [
      ['not it', 'a tunnel at night'],
      [password, 'aaaaaaaaaaaaaaaa'],
      [password, 'crew@example.org'],
      [password, 'short'],
    ] as const) {
      const answer = await change(now, next);
      codes.push(((await answer.json()) as { code: string }).code);
    }
    expect(codes).toEqual(['password-wrong', 'password-weak', 'password-weak', 'request-invalid']);
    expect((await change(password, 'a tunnel at night')).status).toBe(204);
    expect((await ask('GET', '/api/surveys', { cookie: other.cookie })).status).toBe(401);
    expect((await ask('GET', '/api/surveys', { cookie })).status).toBe(200);
    expect((await signIn(account.email, 'a tunnel at night')).answer.status).toBe(200);
  });

  it('cannot be guessed at: ten attempts a quarter of an hour for one, fifty from one address', async () => {
    const { ask, add } = await create();
    const { password } = await add('planner@example.org', 'planner');
    const attempt = async (email: string, secret: string, from: string) =>
      (
        await ask('POST', '/api/session', {
          body: { email, password: secret },
          headers: { 'x-forwarded-for': `10.9.9.9, ${from}` },
        })
      ).status;
    const many = await Promise.all(
      Array.from({ length: 14 }, (_, i) => attempt('Planner@example.org', 'wrong', `10.0.0.${i}`)),
    );
    expect(many.filter((status) => status === 401)).toHaveLength(10);
    expect(many.filter((status) => status === 429)).toHaveLength(4);
    // Even the right one: else whoever guesses would know.
    expect(await attempt('planner@example.org', password, '10.0.0.99')).toBe(429);
    for (let i = 0; i < 50; i += 1) await attempt(`nobody-${i}@example.org`, 'wrong', '10.0.0.100');
    expect(await attempt('nobody-51@example.org', 'wrong', '10.0.0.100')).toBe(429);
    expect(await attempt('nobody-51@example.org', 'wrong', '10.0.0.101')).toBe(401);
    aheadMs = 16 * 60_000;
    expect(await attempt('planner@example.org', password, '10.0.0.99')).toBe(200);
  });

  it('stand in the history by name for what they did', async () => {
    const { store, ask, enter } = await create();
    const { cookie, account } = await enter('planner');
    await ask('PATCH', '/api/surveys/city', { cookie, body: { name: 'North' } });
    const { revisions } = (await (
      await ask('GET', '/api/surveys/city/revisions', { cookie })
    ).json()) as HistoryView;
    expect(revisions.map(({ by }) => by)).toEqual(['The planner', undefined]);
    const [kept] = await store.listRevisions('city', { limit: 1 });
    expect(kept?.by).toBe(account.id);
  });

  it('make links that show one survey and nothing else, until they expire or are taken back', async () => {
    const { store, ask, enter } = await create();
    const { cookie } = await enter('planner');
    const make = async (days: number) =>
      (await (
        await ask('POST', '/api/surveys/city/shares', { cookie, body: { label: 'Road authority', days } })
      ).json()) as MadeShare;
    const { share, token } = await make(30);
    expect(Buffer.from(token, 'base64url')).toHaveLength(32);
    // Of the token the store keeps nothing that opens anything.
    expect(JSON.stringify(await store.db.selectFrom('shares').selectAll().execute())).not.toContain(token);

    const answer = await ask('POST', '/api/session/share', { body: { token } });
    expect(await answer.json()).toEqual({
      mode: 'accounts',
      share: { surveyId: 'city', expiresAt: share.expiresAt },
    });
    const shown = toCookie(answer);
    for (const asked of [{ cookie: shown }, { headers: { authorization: `Bearer ${token}` } }]) {
      const { surveys } = (await (await ask('GET', '/api/surveys', asked)).json()) as Listed;
      expect(surveys.map(({ id }) => id)).toEqual(['city']);
      expect((await ask('GET', '/api/surveys/city/layers/bores', asked)).status).toBe(200);
      expect((await ask('GET', '/api/surveys/other', asked)).status).toBe(404);
      const tile = async (id: string) => (await ask('GET', `/tiles/bores/0/0/0?survey=${id}`, asked)).status;
      expect([await tile('city'), await tile('other')]).toEqual([204, 404]);
      for (const [route, { role, isShared }] of Object.entries(WHO_MAY)) {
        if (role === 'anyone' || isShared) continue;
        const [method = '', path = ''] = route.split(' ');
        const { status } = await ask(method, path.replace('{id}', 'city').replace(/\{\w+\}/g, '1'), asked);
        expect([route, status]).toEqual([route, 403]);
      }
    }

    const gone = await ask('DELETE', `/api/surveys/city/shares/${share.id}`, { cookie });
    expect([gone.status, (await ask('GET', '/api/surveys', { cookie: shown })).status]).toEqual([204, 401]);
    const { token: short } = await make(1);
    expect((await ask('POST', '/api/session/share', { body: { token: short } })).status).toBe(200);
    aheadMs = 24 * 3600_000 + 1000;
    const late = await ask('POST', '/api/session/share', { body: { token: short } });
    expect([late.status, await late.json()]).toMatchObject([404, { code: 'share-unknown' }]);
  });
});

type Asked = {
  readonly body?: unknown;
  readonly cookie?: string;
  readonly headers?: Record<string, string>;
};
type Listed = { readonly surveys: readonly { readonly id: string }[] };

/** What a browser sends back of the cookies that it was given. */
function toCookie(answer: Response): string {
  return answer.headers
    .getSetCookie()
    .filter((cookie) => !/max-age=0/i.test(cookie))
    .map((cookie) => cookie.split(';')[0])
    .join('; ');
}

function survey(id: string): Parameters<Store['saveSurvey']>[0] {
  return {
    id,
    name: id,
    demo: false,
    createdAt: '2026-03-01T00:00:00.000Z',
    revision: 0,
    rules: DEFAULT_RULES,
    source: { format: 'osm-xml', name: 'a.osm' },
    extractId: 'extract-1',
    log: [],
    evidence: {},
    ways: 1,
    tunnelWays: 1,
    network: { links: [], complexes: [] },
    findings: [],
    contextGzip: new Uint8Array([1, 2, 3]),
  };
}

import { beforeAll, describe, expect, it } from 'vitest';
import { createAccounts } from '../../../server/accounts/accounts.ts';
import { createShares } from '../../../server/accounts/shares.ts';
import { openInMemory } from '../../../server/store/open-embedded.ts';
import { COLLECTIONS, checkShape, type Items, type Link, openService, type Service } from './open-service.ts';

const PUBLIC = 'https://beacons.example';
const now = () => new Date();

let service: Service;
let token = '';
let password = '';
beforeAll(async () => {
  const store = await openInMemory(now);
  const accounts = await createAccounts(store.db, PUBLIC, now);
  const shares = createShares(store.db, now);
  const login = { accounts, shares, publicUrl: PUBLIC, isBehindProxy: true };
  service = await openService({ store, now, login });
  const made = await accounts.add({ email: 'planner@example.org', name: 'The planner', role: 'planner' });
  if (!made.ok) throw new Error(made.refusal.code);
  password = made.value.password;
  token = (await shares.make('liechtenstein', { label: 'authority', days: 30 }, made.value.account)).token;
}, 60_000);

const ask = (href: string, authorization?: string) =>
  service.app.request(
    `http://inside:4600/ogc${href}`,
    authorization === undefined ? {} : { headers: { authorization } },
  );

describe('a service with accounts', () => {
  it.each([
    '',
    '/',
    '/conformance',
    '/api',
    '/collections',
    '/collections/bores',
    '/collections/bores/items',
  ])('tells nobody anything at %s without a session or a share link', async (href) => {
    for (const authorization of [undefined, `Bearer ${'x'.repeat(43)}`]) {
      const answer = await ask(href, authorization);
      expect([answer.status, answer.headers.get('content-type')]).toEqual([401, 'application/json']);
      const exception = await answer.json();
      checkShape('exception', exception);
      expect(exception).toMatchObject({ code: 'sign-in-needed' });
    }
  });

  it('shows who has a share link that survey alone', async () => {
    const shown = `Bearer ${token}`;
    for (const collection of COLLECTIONS) {
      const path = `/collections/${collection}/items`;
      const all = (await (await ask(`${path}?limit=10000`, shown)).json()) as Items;
      expect(all.numberMatched).toBe(all.features.length);
      expect(new Set(all.features.map(({ properties }) => properties.survey))).toEqual(
        new Set(['liechtenstein']),
      );
      expect(all.attribution).not.toContain('Aldermouth');
      const one = await ask(`${path}/${all.features[0]?.id}`, shown);
      expect(one.status).toBe(200);
    }
    const local = await openService();
    const { features } = await local.get<Items>('/collections/complexes/items?survey=aldermouth');
    expect((await ask(`/collections/complexes/items/${features[0]?.id}`, shown)).status).toBe(404);
    expect((await ask('/collections/complexes/items?survey=aldermouth', shown)).status).toBe(400);
    const page = await (await ask('/collections/complexes?f=html', shown)).text();
    expect(page).toContain('liechtenstein');
    expect(page).not.toContain('aldermouth');
  });

  it('links to its public address, and describes how to get in', async () => {
    const { links } = (await (await ask('', `Bearer ${token}`)).json()) as { links: Link[] };
    const own = links.filter(({ rel }) => rel !== 'license');
    expect(own.every(({ href }) => href.startsWith(`${PUBLIC}/ogc`))).toBe(true);
    const api = await (await ask('/api', `Bearer ${token}`)).json();
    expect(api).toMatchObject({
      security: [{ shareToken: [] }, { session: [] }],
      components: { securitySchemes: { shareToken: { type: 'http', scheme: 'bearer' } } },
    });
    const signedIn = await service.app.request(`${PUBLIC}/api/session`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ email: 'planner@example.org', password }),
    });
    const { session } = (api as { components: { securitySchemes: { session: { name: string } } } }).components
      .securitySchemes;
    const cookie = signedIn.headers.getSetCookie().find((set) => set.startsWith(`${session.name}=`)) ?? '';
    const answer = await service.app.request(`${PUBLIC}/ogc`, {
      headers: { cookie: cookie.split(';')[0] ?? '' },
    });
    expect(answer.status).toBe(200);
  });
});

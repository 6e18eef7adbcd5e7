import { pino } from 'pino';
import { describe, expect, it } from 'vitest';
import { refusal } from '../shared/outcome/refusal.ts';
import { refused } from '../shared/outcome/result.ts';
import { type AppDeps, createApp } from './app.ts';
import { isLoopback } from './guards.ts';
import { openInMemory } from './store/open-embedded.ts';

async function create(other: Partial<AppDeps> = {}) {
  return createApp({
    store: await openInMemory(),
    overpass: { ask: async () => refused(refusal('overpass-busy')) },
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 1e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
    ...other,
  }).app;
}

describe('a server without login', () => {
  it.each(['localhost:4600', '127.0.0.1:4600', '[::1]:4600', 'boremark.localhost', '127.0.0.1'])(
    'answers under %s',
    async (host) => {
      const app = await create({ names: [] });
      expect((await app.request('/healthz', { headers: { host } })).status).toBe(200);
    },
  );

  it.each(['rebound.example:4600', 'localhost.example', '127.0.0.1.example:80', '10.0.0.7:4600', ''])(
    'refuses to answer under %j, reading too',
    async (host) => {
      const app = await create({ names: [] });
      const response = await app.request('/api/surveys', { headers: { host } });
      expect(response.status).toBe(403);
      expect(await response.json()).toMatchObject({ code: 'host-foreign' });
    },
  );

  it.each([
    ['https://elsewhere.example', 403],
    ['http://localhost:1', 403],
    ['null', 403],
    ['http://localhost:4600', 404],
  ])('takes a change that a page of %s asks for: %i', async (origin, status) => {
    const app = await create({ names: [] });
    const headers = { origin, host: 'localhost:4600' };
    expect((await app.request('/api/surveys/none', { method: 'DELETE', headers })).status).toBe(status);
  });
});

describe('whether the server is ready', () => {
  it('is a matter of the store; whether it is alive is not', async () => {
    const good = await openInMemory();
    const lost = Object.assign(new Error('the disk is gone'), { code: 'SQLITE_IOERR_READ' });
    const app = await create({ store: { ...good, findSurvey: () => Promise.reject(lost) } });
    expect((await app.request('/healthz')).status).toBe(200);
    const ready = await app.request('/readyz');
    expect([ready.status, await ready.json()]).toEqual([
      503,
      expect.objectContaining({ code: 'store-failed', context: { reason: 'SQLITE_IOERR_READ' } }),
    ]);
    expect((await (await create()).request('/readyz')).status).toBe(200);
  });
});

describe('every answer', () => {
  it('names its request, by the name that a proxy gave it or one of its own, and is logged under it', async () => {
    const lines: Record<string, unknown>[] = [];
    const log = pino({ level: 'info' }, { write: (line: string) => lines.push(JSON.parse(line)) });
    const app = await create({ log });
    const own = await app.request('/healthz');
    expect(own.headers.get('x-request-id')).toMatch(/^[\w-]{20,}$/);
    const given = await app.request('/api/none', { headers: { 'x-request-id': 'proxy-17' } });
    expect(given.headers.get('x-request-id')).toBe('proxy-17');
    expect(lines).toMatchObject([
      { method: 'GET', path: '/healthz', status: 200 },
      { method: 'GET', path: '/api/none', status: 404, requestId: 'proxy-17' },
    ]);
    const hostile = await app.request('/healthz', { headers: { 'x-request-id': 'a b{"x":1}' } });
    expect(hostile.headers.get('x-request-id')).not.toContain('{');
  });

  it('has headers that keep other sites’ pages out', async () => {
    const { headers } = await (await create()).request('/api/config');
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('content-security-policy')).toContain("frame-ancestors 'none'");
    expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
  });
});

describe('isLoopback', () => {
  it.each(['localhost', '127.0.0.1', '127.1.2.3', '::1', '[::1]'])('is %s', (name) =>
    expect(isLoopback(name)).toBe(true),
  );
  it.each(['0.0.0.0', '::', '192.168.1.4', 'localhost.example', '127.0.0.1.example'])('is not %s', (name) =>
    expect(isLoopback(name)).toBe(false),
  );
});

import { pino } from 'pino';
import { describe, expect, it } from 'vitest';
import { refusal } from '../../shared/outcome/refusal.ts';
import { refused } from '../../shared/outcome/result.ts';
import { createApp } from '../app.ts';
import { openInMemory } from '../store/open-embedded.ts';
import { findPermission, isEnough, WHO_MAY } from './who-may.ts';

async function createLocal() {
  return createApp({
    store: await openInMemory(),
    overpass: { ask: async () => refused(refusal('overpass-busy')) },
    log: pino({ level: 'silent' }),
    uploadLimitBytes: 1e6,
    version: '0.0.0',
    now: () => new Date('2026-01-01T00:00:00Z'),
  }).app;
}

describe('who may', () => {
  it('is said of every route of the API, and of no other', async () => {
    const app = await createLocal();
    const { paths } = (await (await app.request('/api/openapi.json')).json()) as {
      paths: Record<string, Record<string, unknown>>;
    };
    const described = Object.entries(paths).flatMap(([path, methods]) =>
      Object.keys(methods).map((method) => `${method.toUpperCase()} ${path}`),
    );
    // The standard's pages have a description of their own.
    const features = (await (await app.request('/ogc/api')).json()) as { paths: object };
    const ogc = Object.keys(features.paths).map((path) => `GET /ogc${path}`);
    // Served, but no part of the descriptions.
    const beside = [
      'GET /api/config',
      'GET /api/docs',
      'GET /api/openapi.json',
      'GET /ogc',
      'GET /ogc/style.css',
    ];
    expect(Object.keys(WHO_MAY).sort()).toEqual([...described, ...ogc, ...beside].sort());
    // What the application answers at all, whoever described it.
    const routed = app.routes
      .filter(({ method, path }) => method !== 'ALL' && /^\/(api|ogc|tiles)(\/|$)/.test(path))
      .map(({ method, path }) => `${method} ${path.replace(/:(\w+)/g, '{$1}')}`);
    expect([...new Set(routed)].sort()).toEqual(Object.keys(WHO_MAY).sort());
  });

  it.each([
    ['GET', '/api/surveys/a%2Fb/report', 'a/b'],
    ['HEAD', '/api/surveys/city', 'city'],
    ['POST', '/api/surveys/city/complexes/t1/commands', 'city'],
    ['GET', '/api/surveys', undefined],
  ])('%s %s is about the survey %s', (method, path, surveyId) => {
    expect(findPermission(method, path)?.surveyId).toBe(surveyId);
  });

  it.each([
    ['GET', '/api'],
    ['GET', '/api/'],
    ['GET', '/api/surveys/'],
    ['GET', '/api/openapi-json'],
    ['GET', '/api/surveys/city/layers/bores/more'],
    ['TRACE', '/api/surveys'],
    ['GET', '/ogc/tiles'],
    ['GET', '/ogc/collections/bores/items/city.b1/more'],
    ['POST', '/ogc/collections/bores/items'],
    ['GET', '/tiles/bores/1/2'],
  ])('nobody where no route is known: %s %s', (method, path) => {
    expect(findPermission(method, path)).toBeUndefined();
  });

  it('a role may do what those before it may', () => {
    expect(isEnough('planner', 'crew')).toBe(true);
    expect(isEnough('crew', 'crew')).toBe(true);
    expect(isEnough('reader', 'crew')).toBe(false);
    expect(isEnough('administrator', 'administrator')).toBe(true);
  });
});

describe('a server without accounts', () => {
  it('says so, and refuses what only accounts have', async () => {
    const app = await createLocal();
    expect(await (await app.request('/api/session')).json()).toEqual({ mode: 'local' });
    for (const [method, path] of [
      ['POST', '/api/session'],
      ['GET', '/api/accounts'],
      ['GET', '/api/surveys/city/shares'],
      ['GET', '/api/account/sessions'],
    ] as const) {
      const answer = await app.request(path, { method });
      expect([path, answer.status, await answer.json()]).toMatchObject([path, 409, { code: 'accounts-off' }]);
    }
  });
});

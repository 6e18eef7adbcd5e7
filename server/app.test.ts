import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { refusal } from '../shared/outcome/refusal.ts';
import { refused } from '../shared/outcome/result.ts';
import { createApp } from './app.ts';
import { openInMemory } from './store/open-embedded.ts';

const webRoot = mkdtempSync(join(tmpdir(), 'boremark-web-'));
const { app } = createApp({
  store: await openInMemory(),
  overpass: { ask: async () => refused(refusal('overpass-busy')) },
  log: pino({ level: 'silent' }),
  uploadLimitBytes: 1e6,
  version: '0.0.0',
  now: () => new Date('2026-01-01T00:00:00Z'),
  webRoot,
});
const policyOf = async (path: string) =>
  (await app.request(path)).headers.get('content-security-policy') ?? '';

beforeAll(() => {
  mkdirSync(join(webRoot, 'assets'));
  writeFileSync(join(webRoot, 'index.html'), '<!doctype html>');
  writeFileSync(join(webRoot, 'assets/solve-worker-DjXmgn-f.js'), '');
  writeFileSync(join(webRoot, 'assets/index-B_nfHoE0.js'), '');
});
afterAll(() => rmSync(webRoot, { recursive: true, force: true }));

describe('the content security policy', () => {
  it('lets the script of the solver’s worker compile WebAssembly', async () => {
    const policy = await policyOf('/assets/solve-worker-DjXmgn-f.js');
    expect(policy).toContain("script-src 'self' 'wasm-unsafe-eval';");
  });

  it.each([
    '/',
    '/assets/index-B_nfHoE0.js',
    '/api/config',
    '/assets/solve-worker-x.js/../index.js',
    '/solve-worker-x.js',
    '/assets/solve-worker-.css',
  ])('lets nothing else: %s', async (path) => {
    const policy = await policyOf(path);
    expect(policy).toContain("script-src 'self';");
    expect(policy).not.toContain('unsafe');
  });
});

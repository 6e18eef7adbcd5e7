import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBossQueue } from '../../server/jobs/boss-queue.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { type RunningServer, runServer } from './run-server.ts';
import { type OwnPostgres, startPostgres } from './start-postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-servers-'));
const running: RunningServer[] = [];
let postgres: OwnPostgres | undefined;
beforeAll(() => {
  postgres = startPostgres({ settings: ['fsync=off'] });
  if (postgres === undefined && process.env.CI) {
    throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
  }
});
afterAll(async () => {
  for (const server of running) await server.stop('SIGKILL');
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function start(env: Record<string, string>): Promise<RunningServer> {
  const server = await runServer({ BOREMARK_DATA: join(folder, 'data'), ...env });
  running.push(server);
  return server;
}

const SURVEY = '/api/surveys/aldermouth';

/** What a page hears of a survey. */
function follow({ url }: RunningServer) {
  const heard: { event: string; data: unknown }[] = [];
  const over = new AbortController();
  const ended = (async () => {
    const response = await fetch(`${url}${SURVEY}/changes`, { signal: over.signal });
    let text = '';
    for await (const part of response.body as unknown as AsyncIterable<Uint8Array>) {
      text += new TextDecoder().decode(part);
      for (let end = text.indexOf('\n\n'); end >= 0; end = text.indexOf('\n\n')) {
        const block = text.slice(0, end);
        text = text.slice(end + 2);
        const event = /^event: (.*)$/m.exec(block)?.[1];
        const data = /^data: (.*)$/m.exec(block)?.[1];
        if (event !== undefined) heard.push({ event, data: JSON.parse(data ?? 'null') });
      }
    }
  })().catch((error) => {
    if (!over.signal.aborted) throw error;
  });
  return { heard, ended, stop: () => over.abort() };
}

async function listTunnels({ url }: RunningServer): Promise<readonly string[]> {
  const layer = await (await fetch(`${url}${SURVEY}/layers/complexes`)).json();
  const { features } = layer as { features: { id: string; properties: { beaconCount: number } }[] };
  return features.filter(({ properties }) => properties.beaconCount > 0).map(({ id }) => id);
}
async function edit({ url }: RunningServer, tunnel: string, commandId: string, value: number) {
  const path = `${url}${SURVEY}/complexes/${encodeURIComponent(tunnel)}`;
  for (;;) {
    const { scheme } = (await (await fetch(path)).json()) as { scheme: Scheme };
    const answer = await fetch(`${path}/commands`, {
      method: 'POST',
      body: JSON.stringify({
        baseRevision: scheme.revision,
        commands: [{ kind: 'setRule', commandId, rule: 'spacingM', value }],
      }),
      headers: { 'content-type': 'application/json' },
    });
    if (answer.status === 200) return;
    expect(answer.status).toBe(409);
  }
}
const read = async ({ url }: RunningServer, tunnel: string) =>
  (
    (await (await fetch(`${url}${SURVEY}/complexes/${encodeURIComponent(tunnel)}`)).json()) as {
      scheme: Scheme;
    }
  ).scheme;

describe('two servers on one database', () => {
  it('take edits of one tunnel from both, lose none, and tell each other’s pages', async ({ skip }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    postgres.ask('CREATE DATABASE two');
    const env = { DATABASE_URL: postgres.url('two') };
    const one = await start(env);
    const other = await start(env);
    const [tunnel = '', second = ''] = await listTunnels(one);
    const page = follow(other);
    await expect.poll(() => page.heard.length).toBe(1);
    await edit(one, tunnel, 'command-0', 30);
    await expect
      .poll(() => page.heard.at(-1))
      .toEqual({
        event: 'changed',
        data: { revision: expect.any(Number), scheme: { complexId: tunnel, revision: 1 } },
      });
    expect(await read(other, tunnel)).toEqual(await read(one, tunnel));

    const edits = Array.from({ length: 24 }, (_, i) =>
      edit(i % 2 ? one : other, i % 3 ? tunnel : second, `command-${i + 1}`, 20 + i),
    );
    await Promise.all(edits);
    const logs = await Promise.all([read(one, tunnel), read(one, second)]);
    const ids = logs.flatMap(({ log }) => log.map(({ commandId }) => commandId)).sort();
    expect(ids).toEqual(Array.from({ length: 25 }, (_, i) => `command-${i}`).sort());
    for (const { log, revision } of logs) expect(revision).toBe(log.length);
    expect(await read(other, second)).toEqual(await read(one, second));
    await expect.poll(() => page.heard.length).toBe(26);

    // The connection that they hear each other by breaks: the page is told to ask, and hears again.
    postgres.ask("SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE query LIKE 'listen %'");
    await expect.poll(() => page.heard.length, { timeout: 15_000 }).toBe(27);
    await edit(one, tunnel, 'command-last', 50);
    await expect.poll(() => page.heard.length, { timeout: 15_000 }).toBe(28);
    page.stop();
  }, 120_000);

  // Without turns one in twenty was thrown out by the database, which found it and another one waiting for each other.
  it('open the queue of a new database together', async ({ skip }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    for (let i = 0; i < 20; i++) {
      postgres.ask(`CREATE DATABASE queue_${i}`);
      const url = postgres.url(`queue_${i}`);
      const opened = Array.from({ length: 4 }, () =>
        openBossQueue(url, (error) => {
          throw error;
        }),
      );
      for (const queue of await Promise.all(opened)) await queue.close();
    }
  }, 60_000);

  it('seed the demo once, whichever starts first', async ({ skip }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    postgres.ask('CREATE DATABASE twins');
    const env = { DATABASE_URL: postgres.url('twins') };
    const both = await Promise.all([start(env), start(env)]);
    for (const { url } of both) {
      const { surveys } = (await (await fetch(`${url}/api/surveys`)).json()) as {
        surveys: { id: string; evidence: object }[];
      };
      expect(surveys.map(({ id }) => id)).toEqual(['aldermouth']);
      expect(surveys[0]?.evidence).toMatchObject({ traffic: {}, existing: {} });
    }
  }, 60_000);
});

describe('a server', () => {
  it('that is told to stop ends its streams, and what it has acknowledged is there', async () => {
    const server = await start({});
    const [tunnel = ''] = await listTunnels(server);
    const page = follow(server);
    await expect.poll(() => page.heard.length).toBe(1);
    await edit(server, tunnel, 'command-1', 30);
    const started = performance.now();
    await server.stop('SIGTERM');
    await page.ended;
    expect(server.process.exitCode).toBe(0);
    expect(performance.now() - started).toBeLessThan(10_000);
    expect((await read(await start({}), tunnel)).log).toHaveLength(1);
  }, 60_000);
});

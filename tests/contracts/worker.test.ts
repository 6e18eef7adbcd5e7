import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { findBuilt, type RunningServer, runServer, runWorker } from './run-server.ts';
import { type SlowMapServer, startSlowMapServer } from './slow-map-server.ts';
import { type OwnPostgres, startPostgres } from './start-postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-workers-'));
const demo = join(import.meta.dirname, '../../data/demo/aldermouth.osm');
const running: Pick<RunningServer, 'stop'>[] = [];
let postgres: OwnPostgres | undefined;
let map: SlowMapServer;
let count = 0;
beforeAll(async () => {
  postgres = startPostgres({ settings: ['fsync=off'] });
  if (postgres === undefined && process.env.CI) {
    throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
  }
  map = await startSlowMapServer();
});
afterAll(async () => {
  for (const program of running) await program.stop('SIGKILL');
  map.close();
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function keep<T extends Pick<RunningServer, 'stop'>>(starting: Promise<T>): Promise<T> {
  const program = await starting;
  running.push(program);
  return program;
}

/** A database of its own; each program has a folder of its own, so that no answer of the map server is shared. */
function makeEnv(own: OwnPostgres, name: string) {
  own.ask(`CREATE DATABASE ${name}`);
  return () => {
    count += 1;
    return {
      DATABASE_URL: own.url(name),
      OVERPASS_URL: map.url,
      BOREMARK_DATA: join(folder, `data-${count}`),
    };
  };
}

async function askArea({ url }: RunningServer): Promise<string> {
  const answer = await fetch(`${url}/api/surveys`, {
    method: 'POST',
    body: JSON.stringify({ area: { bbox: [-20.1, 45.9, -19.9, 46.1] }, name: 'asked' }),
    headers: { 'content-type': 'application/json' },
  });
  expect(answer.status).toBe(202);
  return ((await answer.json()) as SurveyView).id;
}

async function send({ url }: RunningServer): Promise<string> {
  const form = new FormData();
  form.set('file', new File([readFileSync(demo)], 'city.osm'));
  const answer = await fetch(`${url}/api/surveys`, { method: 'POST', body: form });
  expect(answer.status).toBe(202);
  return ((await answer.json()) as SurveyView).id;
}

const view = async ({ url }: RunningServer, id: string) =>
  (await (await fetch(`${url}/api/surveys/${id}`)).json()) as SurveyView;
const stageOf = async (server: RunningServer, id: string) => (await view(server, id)).progress?.stage;
/** Everything that a page hears of an import, to its end. */
const follow = async ({ url }: RunningServer, id: string) =>
  (await (await fetch(`${url}/api/surveys/${id}/events`)).text()).trim().split('\n\n');
const idsOf = async ({ url }: RunningServer) =>
  ((await (await fetch(`${url}/api/surveys`)).json()) as { surveys: SurveyView[] }).surveys.map(
    ({ id }) => id,
  );

describe('workers on one database', () => {
  it('do what servers are asked: a file, an area; any server tells how far it is, and cancels it', async ({
    skip,
  }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    map.hold();
    const env = makeEnv(postgres, 'shared');
    const [one, other] = [
      await keep(runServer({ ...env(), BOREMARK_JOBS: '0' })),
      await keep(runServer({ ...env(), BOREMARK_JOBS: '0' })),
    ];
    const sent = await send(one);
    expect(await stageOf(other, sent)).toBe('waiting');
    const heard = follow(other, sent);
    await keep(runWorker(env()));
    const events = await heard;
    expect(events.at(-1)).toMatch(/^event: ready\n/);
    expect((await view(one, sent)).counts?.complexes).toBeGreaterThan(20);
    await expect.poll(() => postgres?.ask('select count(*) from upload_chunks', 'shared')).toBe('0');

    const asked = await askArea(one);
    await expect.poll(() => stageOf(other, asked), { timeout: 10_000 }).toBe('asking');
    expect(await idsOf(other)).toContain(asked);
    const stream = await fetch(`${one.url}/api/surveys/${asked}/events`);
    const ended = await fetch(`${other.url}/api/surveys/${asked}`, { method: 'DELETE' });
    expect(ended.status).toBe(204);
    expect((await stream.text()).trim().split('\n\n').at(-1)).toContain('"code":"job-cancelled"');
    map.answer();
    // The worker is free again, and the one that was cancelled never comes.
    const next = await askArea(one);
    await expect.poll(async () => (await view(one, next)).status, { timeout: 10_000 }).toBe('ready');
    expect(await idsOf(other)).not.toContain(asked);
  }, 60_000);

  it('finish what one that was killed has begun, once; and what one that was stopped has given back', async ({
    skip,
  }) => {
    if (postgres === undefined) return skip('no PostgreSQL was found');
    map.hold();
    const env = makeEnv(postgres, 'killed');
    const server = await keep(runServer({ ...env(), BOREMARK_JOBS: '0' }));
    const first = await keep(runWorker(env()));
    const before = map.asked();
    const id = await askArea(server);
    const heard = follow(server, id);
    await expect.poll(() => map.asked(), { timeout: 10_000 }).toBe(before + 1);
    await first.stop('SIGKILL');
    const second = await keep(runWorker(env()));
    // It is found by its silence.
    await expect.poll(() => map.asked(), { timeout: 60_000, interval: 500 }).toBe(before + 2);
    await second.stop('SIGTERM');
    expect(second.process.exitCode).toBe(0);
    expect(await stageOf(server, id)).toBe('waiting');
    await keep(runWorker(env()));
    await expect.poll(() => map.asked(), { timeout: 5000 }).toBe(before + 3);
    map.answer();
    expect((await heard).at(-1)).toMatch(/^event: ready\n/);
    expect((await idsOf(server)).filter((known) => known === id)).toEqual([id]);
    expect(postgres.ask('select count(*) from jobs', 'killed')).toBe('0');
  }, 120_000);

  it('are refused in one line without a database, or without a job to do at once', () => {
    const tell = (env: Record<string, string>) =>
      spawnSync(process.execPath, [findBuilt('cli.js'), 'worker'], {
        env: { ...process.env, DATABASE_URL: '', ...env },
        encoding: 'utf8',
      });
    const none = tell({});
    expect([none.status, none.stderr]).toEqual([
      1,
      expect.stringMatching(/^boremark: A worker needs DATABASE_URL[^\n]+\n$/),
    ]);
    const idle = tell({ BOREMARK_JOBS: '0', DATABASE_URL: 'postgres://nobody@127.0.0.1:1/none' });
    expect([idle.status, idle.stderr]).toEqual([
      1,
      expect.stringMatching(/^boremark: BOREMARK_JOBS must be at least 1 for a worker\.\n$/),
    ]);
  });
});

describe('a server that has its data in a folder', () => {
  it('does after a restart what it was killed in, or was stopped in', async () => {
    map.hold();
    const own = join(folder, 'own');
    const env = { BOREMARK_DATA: own, OVERPASS_URL: map.url };
    const before = map.asked();
    const first = await keep(runServer(env));
    const [asked, sent] = [await askArea(first), await send(first)];
    await expect.poll(() => map.asked(), { timeout: 10_000 }).toBe(before + 1);
    expect(readdirSync(join(own, 'uploads'))).toHaveLength(1);
    await first.stop('SIGKILL');
    const second = await keep(runServer(env));
    await expect.poll(() => map.asked(), { timeout: 10_000 }).toBe(before + 2);
    await second.stop('SIGTERM');
    const third = await keep(runServer(env));
    await expect.poll(() => map.asked(), { timeout: 10_000 }).toBe(before + 3);
    map.answer();
    for (const id of [asked, sent]) {
      await expect.poll(async () => (await view(third, id)).status, { timeout: 20_000 }).toBe('ready');
    }
    await expect.poll(() => readdirSync(join(own, 'uploads'))).toEqual([]);
    await third.stop();
  }, 90_000);

  it('says so where it was killed three times in the same import, and goes on with the next', async () => {
    map.hold();
    const own = join(folder, 'poison');
    const env = { BOREMARK_DATA: own, OVERPASS_URL: map.url };
    let server = await keep(runServer(env));
    const id = await askArea(server);
    const next = await send(server);
    for (let i = 0; i < 3; i += 1) {
      await expect.poll(() => stageOf(server, id), { timeout: 10_000 }).toBe('asking');
      await server.stop('SIGKILL');
      server = await keep(runServer(env));
    }
    await expect.poll(async () => (await view(server, id)).status, { timeout: 10_000 }).toBe('refused');
    expect((await view(server, id)).refusal).toMatchObject({
      code: 'job-died',
      detail: expect.stringMatching(/^The program stopped 3 times while it was at work on asked/),
    });
    await expect.poll(async () => (await view(server, next)).status, { timeout: 20_000 }).toBe('ready');
    await server.stop();
  }, 90_000);
});

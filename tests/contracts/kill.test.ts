import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import Database from 'libsql';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { type RunningServer, runServer } from './run-server.ts';
import { type OwnPostgres, startPostgres } from './start-postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-kill-'));
let running: RunningServer | undefined;
let postgres: OwnPostgres | undefined;

beforeAll(() => {
  postgres = startPostgres({});
});
afterAll(async () => {
  await running?.stop('SIGKILL');
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

async function start(env: Record<string, string>): Promise<string> {
  running = await runServer({ BOREMARK_DATA: folder, ...env });
  return running.url;
}

/** What one tunnel's writer knows: what was acknowledged, and how many batches it has sent. */
type Writer = { readonly path: string; readonly acknowledged: string[]; sent: number };

const read = async (url: string, path: string): Promise<Scheme> => {
  const answer = await fetch(url + path);
  if (answer.status !== 200) throw new Error(`answered ${answer.status}: ${await answer.text()}`);
  return ((await answer.json()) as { scheme: Scheme }).scheme;
};

/** Sends batches of two edits, one after the other, until the server is gone. */
async function write(url: string, writer: Writer): Promise<void> {
  try {
    let { revision } = await read(url, writer.path);
    for (;;) {
      writer.sent += 1;
      const ids = [`command-${writer.sent}-a`, `command-${writer.sent}-b`];
      const value = 20 + (writer.sent % 30);
      const commands = ids.map((commandId) => ({ kind: 'setRule', commandId, rule: 'spacingM', value }));
      const answer = await fetch(`${url}${writer.path}/commands`, {
        method: 'POST',
        body: JSON.stringify({ baseRevision: revision, commands }),
        headers: { 'content-type': 'application/json' },
      });
      if (answer.status !== 200) throw new Error(`answered ${answer.status}: ${await answer.text()}`);
      ({ revision } = ((await answer.json()) as { scheme: Scheme }).scheme);
      writer.acknowledged.push(...ids);
    }
  } catch (error) {
    // That is what happens to a request whose server is killed.
    if (!(error instanceof TypeError)) throw error;
  }
}

async function check(url: string, { path, acknowledged }: Writer): Promise<void> {
  const { log, revision, rules } = await read(url, path);
  const ids = log.map(({ commandId }) => commandId);
  const kept = new Set(ids);
  expect(acknowledged.filter((id) => !kept.has(id))).toEqual([]);
  expect(revision).toBe(log.length);
  // Each batch of two is there as a whole, and what follows from the log is what its last entry says.
  expect(ids.filter((_, i) => i % 2 === 1)).toEqual(
    ids.filter((_, i) => i % 2 === 0).map((id) => id.replace('-a', '-b')),
  );
  const last = log.at(-1);
  expect(rules.spacingM).toBe(last?.kind === 'setRule' ? last.value : undefined);
}

/** Kills the server so many times while it writes, at another moment each time; returns how much was acknowledged. */
async function killOften(rounds: number, env: Record<string, string>, afterKill = () => {}): Promise<number> {
  let url = await start(env);
  const layer = await (await fetch(`${url}/api/surveys/aldermouth/layers/complexes`)).json();
  const { features } = layer as { features: { id: string; properties: { beaconCount: number } }[] };
  const writers = features
    .filter(({ properties }) => properties.beaconCount > 0)
    .slice(0, 3)
    .map(
      ({ id }): Writer => ({
        path: `/api/surveys/aldermouth/complexes/${encodeURIComponent(id)}`,
        acknowledged: [],
        sent: 0,
      }),
    );
  expect(writers).toHaveLength(3);
  for (let round = 0; round < rounds; round += 1) {
    const writing = Promise.all(writers.map((writer) => write(url, writer)));
    await sleep(30 + ((round * 37) % 140));
    await running?.stop('SIGKILL');
    await writing;
    afterKill();
    url = await start(env);
    for (const writer of writers) await check(url, writer);
  }
  await running?.stop('SIGKILL');
  return writers.reduce((sum, { acknowledged }) => sum + acknowledged.length, 0);
}

describe('a server that is killed while people edit', () => {
  it('has kept all that it acknowledged, and nothing by halves, on its own disk', {
    timeout: 300_000,
  }, async () => {
    const integrity = () => {
      const database = new Database(join(folder, 'boremark.db'));
      expect(database.prepare('pragma integrity_check').get()).toMatchObject({ integrity_check: 'ok' });
      database.close();
    };
    expect(await killOften(50, {}, integrity)).toBeGreaterThan(500);
  });

  it('has kept it on PostgreSQL', { timeout: 120_000 }, async ({ skip }) => {
    if (postgres === undefined) {
      if (process.env.CI) throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
      return skip('no PostgreSQL was found');
    }
    postgres.ask('CREATE DATABASE killed');
    expect(await killOften(10, { DATABASE_URL: postgres.url('killed') })).toBeGreaterThan(20);
  });
});

import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Database from 'libsql';
import { afterAll, describe, expect, it } from 'vitest';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { findBuilt, type RunningServer, runServer } from './run-server.ts';
import { startPostgres } from './start-postgres.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-backup-'));
const postgres = startPostgres({ settings: ['fsync=off'] });
const running: RunningServer[] = [];
afterAll(async () => {
  for (const server of running) await server.stop('SIGKILL');
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
});

const at = (name: string) => join(folder, name);
async function start(env: Record<string, string>): Promise<RunningServer> {
  const server = await runServer(env);
  running.push(server);
  return server;
}
function boremark(env: Record<string, string>, ...args: string[]) {
  const run = spawnSync(process.execPath, [findBuilt('cli.js'), ...args], {
    env: { ...process.env, ...env },
    encoding: 'utf8',
  });
  return { status: run.status, out: run.stdout, why: run.stderr };
}

const SURVEY = '/api/surveys/aldermouth';
const exportOf = async ({ url }: RunningServer) =>
  Buffer.from(await (await fetch(`${url}${SURVEY}/export`)).arrayBuffer()).toString('base64');
const tunnelOf = async ({ url }: RunningServer) => {
  const layer = await (await fetch(`${url}${SURVEY}/layers/complexes`)).json();
  const { features } = layer as { features: { id: string; properties: { beaconCount: number } }[] };
  const id = features.find(({ properties }) => properties.beaconCount > 10)?.id ?? '';
  return `${SURVEY}/complexes/${encodeURIComponent(id)}`;
};
async function edit({ url }: RunningServer, tunnel: string, commandId: string, value: number): Promise<void> {
  const { scheme } = (await (await fetch(url + tunnel)).json()) as { scheme: Scheme };
  const answer = await fetch(`${url}${tunnel}/commands`, {
    method: 'POST',
    body: JSON.stringify({
      baseRevision: scheme.revision,
      commands: [{ kind: 'setRule', commandId, rule: 'spacingM', value }],
    }),
    headers: { 'content-type': 'application/json' },
  });
  expect(answer.status).toBe(200);
}

describe('a backup', () => {
  it('is taken from a server that runs, and what is restored gives the same files, byte for byte', async () => {
    const env = { BOREMARK_DATA: at('own') };
    const server = await start(env);
    const tunnel = await tunnelOf(server);
    await edit(server, tunnel, 'command-1', 25);
    const before = await exportOf(server);
    expect(boremark(env, 'backup', at('a.backup')).status).toBe(0);
    // One whole file, and nothing beside it.
    expect(readdirSync(folder).filter((name) => name.startsWith('a.backup'))).toEqual(['a.backup']);
    expect(readdirSync(folder).filter((name) => name.startsWith('.boremark'))).toEqual([]);

    await edit(server, tunnel, 'command-2', 60);
    expect(await exportOf(server)).not.toBe(before);
    const refused = boremark(env, 'restore', at('a.backup'));
    expect([refused.status, refused.why]).toEqual([1, expect.stringMatching(/^boremark: .*--replace\.\n$/)]);
    // The server goes on with what was restored.
    expect(boremark(env, 'restore', at('a.backup'), '--replace').status).toBe(0);
    expect(await exportOf(server)).toBe(before);
    await edit(server, tunnel, 'command-3', 60);
    expect(await exportOf(server)).not.toBe(before);

    const other = { BOREMARK_DATA: at('other') };
    expect(boremark(other, 'restore', at('a.backup')).status).toBe(0);
    expect(await exportOf(await start(other))).toBe(before);
  }, 120_000);

  it('goes from a folder to PostgreSQL and back', async ({ skip }) => {
    if (postgres === undefined) {
      if (process.env.CI) throw new Error('CI must have a PostgreSQL (install Debian’s postgresql)');
      return skip('no PostgreSQL was found');
    }
    postgres.ask('CREATE DATABASE moved');
    const own = await start({ BOREMARK_DATA: at('first') });
    await edit(own, await tunnelOf(own), 'command-1', 33);
    const before = await exportOf(own);
    expect(boremark({ BOREMARK_DATA: at('first') }, 'backup', at('b.backup')).status).toBe(0);
    const shared = { DATABASE_URL: postgres.url('moved'), BOREMARK_DATA: at('unused') };
    expect(boremark(shared, 'restore', at('b.backup')).status).toBe(0);
    expect(await exportOf(await start(shared))).toBe(before);
    expect(boremark(shared, 'backup', at('c.backup')).status).toBe(0);
    const back = { BOREMARK_DATA: at('back') };
    expect(boremark(back, 'restore', at('c.backup')).status).toBe(0);
    expect(await exportOf(await start(back))).toBe(before);
  }, 120_000);

  it('is refused in one line where there is nothing, or such a file already', () => {
    const none = boremark({ BOREMARK_DATA: at('nothing') }, 'backup', at('none.backup'));
    expect([none.status, none.why]).toEqual([
      1,
      expect.stringMatching(/^boremark: There is nothing in [^\n]+\n$/),
    ]);
    expect(existsSync(at('nothing'))).toBe(false);
    writeFileSync(at('mine'), 'mine');
    const made = boremark({ BOREMARK_DATA: at('own') }, 'backup', at('mine'));
    expect([made.status, made.why]).toEqual([1, expect.stringContaining('there is such a file already')]);
  });

  it('that is none, or is damaged, is not restored, and nothing is changed', async () => {
    const env = { BOREMARK_DATA: at('kept') };
    const server = await start(env);
    const before = await exportOf(server);
    writeFileSync(at('text'), 'no backup at all');
    writeFileSync(at('empty'), '');
    const database = new Database(at('other.db'));
    database.exec('create table mine (id integer)');
    database.close();
    for (const name of ['text', 'empty', 'other.db', 'missing']) {
      const run = boremark(env, 'restore', at(name), '--replace');
      expect([name, run.status, run.why]).toEqual([name, 1, expect.stringMatching(/^boremark: [^\n]+\n$/)]);
    }
    expect(await exportOf(server)).toBe(before);
  }, 60_000);
});

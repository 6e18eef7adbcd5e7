import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { request } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { text } from 'node:stream/consumers';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { findBuilt, type RunningServer, runServer } from './run-server.ts';

const folder = mkdtempSync(join(tmpdir(), 'boremark-accounts-'));
const env = { BOREMARK_DATA: join(folder, 'data'), BOREMARK_AUTH: 'accounts', LOG_LEVEL: 'info' };
let server: RunningServer;
let password = '';

beforeAll(async () => {
  const added = await run(
    'account',
    'add',
    'Admin@example.org',
    '--name',
    'Admin',
    '--role',
    'administrator',
  );
  expect([added.status, added.stderr]).toEqual([0, '']);
  password = added.stdout.trim().split('\n').at(-1) ?? '';
  server = await runServer(env);
});
afterAll(async () => {
  await server?.stop();
  rmSync(folder, { recursive: true, force: true });
});

/** Runs the command line beside the server; not waited for in a way that would keep us from hearing the server. */
async function run(...args: readonly string[]) {
  const child = spawn(process.execPath, [findBuilt('cli.js'), ...args], {
    env: { ...process.env, ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  const [stdout, stderr, [status]] = await Promise.all([
    text(child.stdout),
    text(child.stderr),
    once(child, 'exit'),
  ]);
  return { status: status as number, stdout, stderr };
}

async function signIn(email: string, secret: string) {
  const answer = await fetch(`${server.url}/api/session`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ email, password: secret }),
  });
  return { status: answer.status, cookie: answer.headers.getSetCookie()[0]?.split(';')[0] ?? '' };
}

const status = async (path: string, cookie: string) =>
  (await fetch(`${server.url}${path}`, { headers: { cookie } })).status;

describe('a server with accounts', () => {
  it('lets the first administrator in, who was made by the command line', async () => {
    expect(await status('/api/surveys', '')).toBe(401);
    const { cookie } = await signIn('admin@example.org', password);
    expect(await status('/api/surveys', cookie)).toBe(200);
    expect(await status('/api/accounts', cookie)).toBe(200);
    // The page itself is there for whoever is to sign in.
    expect(await status('/', '')).toBe(200);
  });

  it('knows at once what the command line changes beside it', async () => {
    const added = await run('account', 'add', 'crew@example.org', '--role', 'crew');
    const { cookie } = await signIn('crew@example.org', added.stdout.trim().split('\n').at(-1) ?? '');
    expect(await status('/api/accounts', cookie)).toBe(403);
    expect((await run('account', 'role', 'crew@example.org', 'administrator')).status).toBe(0);
    expect(await status('/api/accounts', cookie)).toBe(200);
    expect((await run('account', 'list')).stdout).toBe(
      'admin@example.org  Admin  administrator\ncrew@example.org  crew  administrator\n',
    );
    expect((await run('account', 'close', 'crew@example.org')).stdout).toBe(
      'crew@example.org  crew  administrator  closed\n',
    );
    expect(await status('/api/surveys', cookie)).toBe(401);
    expect((await run('account', 'open', 'crew@example.org')).status).toBe(0);
    const renewed =
      (await run('account', 'password', 'crew@example.org')).stdout.trim().split('\n').at(-1) ?? '';
    expect((await signIn('crew@example.org', renewed)).status).toBe(200);
  });

  it('writes down whose import it was, though it is done later', async () => {
    const { cookie } = await signIn('admin@example.org', password);
    const form = new FormData();
    form.append('file', new Blob([readFileSync('data/demo/aldermouth.osm')]), 'north.osm');
    const begun = await fetch(`${server.url}/api/surveys`, {
      method: 'POST',
      body: form,
      headers: { cookie },
    });
    const { id } = (await begun.json()) as { id: string };
    const read = async (path: string) =>
      (await (await fetch(`${server.url}/api/surveys/${id}${path}`, { headers: { cookie } })).json()) as {
        status?: string;
        revisions: unknown[];
      };
    await expect.poll(async () => (await read('')).status, { timeout: 30_000 }).toBe('ready');
    expect((await read('/revisions')).revisions).toMatchObject([{ revision: 0, by: 'Admin' }]);
  });

  it.each([
    [['add', 'admin@example.org', '--role', 'reader'], /already/],
    [['add', 'nobody', '--role', 'reader'], /email/],
    [['add', 'a@example.org', '--role', 'king'], /reader, crew, planner, administrator/],
    [['role', 'crew@example.org', 'king'], /reader, crew, planner, administrator/],
    [['close', 'nobody@example.org'], /no such account/],
  ])('refuses account %j in one line', async (args, words) => {
    const { status: code, stdout, stderr } = await run('account', ...args);
    expect([code, stdout]).toEqual([1, '']);
    expect(stderr).toMatch(words);
    expect(stderr.trim().split('\n')).toHaveLength(1);
  });

  it('answers under its own names alone', async () => {
    const answered = await new Promise<number | undefined>((resolve, reject) => {
      const { port } = new URL(server.url);
      const headers = { host: 'rebound.example' };
      request({ port, path: '/api/session', headers }, (response) => resolve(response.statusCode))
        .on('error', reject)
        .end();
    });
    expect(answered).toBe(403);
  });

  it('does not start where others reach it and nobody signs in', () => {
    const refused = spawnSync(process.execPath, [findBuilt('main.js')], {
      env: { ...process.env, ...env, BOREMARK_AUTH: '', HOST: '0.0.0.0', PORT: '0' },
      encoding: 'utf8',
    });
    expect([refused.status, refused.stdout]).toEqual([2, '']);
    expect(refused.stderr).toMatch(/BOREMARK_AUTH=accounts/);
  });

  it('keeps accounts in a backup, but nobody signed in', async () => {
    const file = join(folder, 'backup');
    const { cookie } = await signIn('admin@example.org', password);
    expect((await run('backup', file)).status).toBe(0);
    const { status: code, stderr } = await run('restore', file);
    expect([code, stderr]).toEqual([1, expect.stringMatching(/--replace/)]);
    expect((await run('restore', file, '--replace')).status).toBe(0);
    expect(await status('/api/surveys', cookie)).toBe(401);
    expect((await signIn('admin@example.org', password)).status).toBe(200);
  });
});

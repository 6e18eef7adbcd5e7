/**
 * `npm run bench:server`: so many clients edit and read for a minute, on the embedded store and on PostgreSQL where one
 * is found. Ends with 1 where an answer was an error or an edit that was acknowledged is not there.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import type { Scheme } from '../../shared/scheme/scheme.ts';
import { runServer } from '../contracts/run-server.ts';
import { startPostgres } from '../contracts/start-postgres.ts';
import { type Load, makeTallies, runClients } from './load-clients.ts';

const CLIENTS = 50;
const SECONDS = Number(process.env.SECONDS || 60);

async function startBare(): Promise<{ url: string; process: ChildProcess }> {
  const server = spawn(process.execPath, [join(import.meta.dirname, 'bare-server.mjs')], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  for await (const line of createInterface({ input: server.stdout })) return { url: line, process: server };
  throw new Error('the bare server did not start');
}

/** As many clients that do nothing but ask a route that does nothing, and send what an edit sends. */
async function measureBare(): Promise<Pick<Load, 'tallies' | 'perSecond'>> {
  const bare = await startBare();
  const { ask, summarise } = makeTallies();
  const seconds = Math.min(10, SECONDS);
  const end = performance.now() + seconds * 1000;
  const body = JSON.stringify({ baseRevision: 1, commands: [{ kind: 'setRule', commandId: 'load-0-0-0' }] });
  await Promise.all(
    Array.from({ length: CLIENTS }, async () => {
      while (performance.now() < end) {
        await (await ask('bare route, GET', () => fetch(bare.url))).arrayBuffer();
        const post = () =>
          fetch(bare.url, { method: 'POST', body, headers: { 'content-type': 'application/json' } });
        await (await ask('bare route, POST', post)).arrayBuffer();
      }
    }),
  );
  bare.process.kill();
  return summarise(seconds);
}

async function measure(env: Record<string, string>): Promise<Load & { readonly lost: number }> {
  const server = await runServer(env);
  try {
    const tunnels = await listTunnels(server.url);
    const load = await runClients(server.url, tunnels, { clients: CLIENTS, seconds: SECONDS });
    let lost = 0;
    for (const [tunnel, ids] of load.acknowledged) {
      const path = `${server.url}/api/surveys/aldermouth/complexes/${encodeURIComponent(tunnel)}`;
      const { scheme } = (await (await fetch(path)).json()) as { scheme: Scheme };
      const kept = new Set(scheme.log.map(({ commandId }) => commandId));
      lost += ids.filter((id) => !kept.has(id)).length;
    }
    return { ...load, lost };
  } finally {
    await server.stop();
  }
}

async function listTunnels(url: string): Promise<readonly string[]> {
  const answer = await fetch(`${url}/api/surveys/aldermouth/layers/complexes`);
  const { features } = (await answer.json()) as {
    features: { id: string; properties: { beaconCount: number } }[];
  };
  // Half as many as clients: every second edit has somebody beside it.
  return features.filter(({ properties }) => properties.beaconCount > 0).map(({ id }) => id);
}

function print(title: string, { tallies, perSecond }: Pick<Load, 'tallies' | 'perSecond'>, bare: number) {
  console.log(
    `${title}: ${Math.round(perSecond).toLocaleString('en')} requests/s, ${(perSecond / bare).toFixed(3)} × reference`,
  );
  for (const { name, count, p50Ms, p95Ms } of tallies) {
    console.log(
      `  ${name.padEnd(24)} ${count.toLocaleString('en').padStart(9)}   median ${p50Ms.toFixed(1).padStart(7)} ms   95 % ${p95Ms.toFixed(1).padStart(7)} ms`,
    );
  }
}

const folder = mkdtempSync(join(tmpdir(), 'boremark-load-'));
const postgres = startPostgres({});
let isGood = true;
try {
  console.log(`${CLIENTS} clients edit and read for ${SECONDS} s`);
  const bare = await measureBare();
  print('a route that does nothing (reference)', bare, bare.perSecond);
  const stores: (readonly [string, Record<string, string>])[] = [
    ['SQLite in a folder', { BOREMARK_DATA: folder }],
  ];
  if (postgres === undefined) console.log('No PostgreSQL was found: measured without it.');
  else {
    postgres.ask('CREATE DATABASE load');
    stores.push([
      'PostgreSQL',
      { DATABASE_URL: postgres.url('load'), BOREMARK_DATA: join(folder, 'unused') },
    ]);
  }
  for (const [name, env] of stores) {
    const load = await measure(env);
    print(name, load, bare.perSecond);
    const edits = [...load.acknowledged.values()].reduce((sum, ids) => sum + ids.length, 0);
    console.log(`  ${edits} edits acknowledged, ${load.lost} lost, ${load.errors.length} errors`);
    for (const error of load.errors.slice(0, 5)) console.log(`  ${error}`);
    if (load.lost > 0 || load.errors.length > 0) isGood = false;
  }
} finally {
  postgres?.stop();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(isGood ? 0 : 1);

/**
 * `npm run bench:workers`: what one worker and two do of the jobs of a server on PostgreSQL: imports, and drives through
 * a city's tunnels; how much memory they take, and whether the server answers others meanwhile. Needs a PostgreSQL.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { driveComplex } from '../../shared/pipeline/rank-survey.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { type RunningServer, runServer, runWorker } from '../contracts/run-server.ts';
import { type OwnPostgres, startPostgres } from '../contracts/start-postgres.ts';
import { drawCityMap } from './draw-city.ts';

const TUNNELS = Number(process.env.TUNNELS || 1000);
const FILES = 4;

const map = drawCityMap(TUNNELS, { lengthM: 2000, ramps: 4, rampM: 300 });
const file = JSON.stringify({
  version: 0.6,
  generator: 'bench',
  elements: [
    ...map.nodes.map((node) => ({ type: 'node', ...node })),
    ...map.ways.map((way) => ({ type: 'way', ...way })),
  ],
});

/** What the drives take in this process, without queue and store: milliseconds. */
function measureReference(): number {
  const networks = listComplexNetworks(buildNetwork(map, NETWORK_RULES).value).slice(0, 100);
  const started = performance.now();
  let count = 0;
  for (const network of networks) {
    const { value: design } = designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id));
    count += driveComplex(network, design).length;
  }
  if (count === 0) throw new Error('nothing was driven');
  return ((performance.now() - started) / networks.length) * TUNNELS;
}

async function measure(postgres: OwnPostgres, folder: string, workers: number, referenceMs: number) {
  const database = `workers_${workers}`;
  postgres.ask(`CREATE DATABASE ${database}`);
  const env = { DATABASE_URL: postgres.url(database), BOREMARK_DATA: join(folder, database) };
  const server = await runServer({ ...env, BOREMARK_JOBS: '0' });
  const running: Omit<RunningServer, 'url'>[] = [];
  try {
    for (let i = 0; i < workers; i += 1) running.push(await runWorker(env));
    const begun = performance.now();
    const ids = await Promise.all(Array.from({ length: FILES }, () => send(server.url)));
    const kept = waitUntilKept(postgres, database);
    const whileImporting = await measureAnswers(server.url, kept);
    const importS = (performance.now() - begun) / 1000;
    // Whoever opens a survey first has its beacons laid out, by the server itself.
    const laid = performance.now();
    await (await fetch(`${server.url}/api/surveys/${ids[0]}`)).text();
    const layS = (performance.now() - laid) / 1000;

    const idle = await measureAnswers(server.url, sleep(3000));
    const started = performance.now();
    const layer = fetch(`${server.url}/api/surveys/${ids[0]}/layers/complexes`).then((answer) => {
      if (!answer.ok) throw new Error(`the layer was answered with ${answer.status}`);
      return answer.arrayBuffer();
    });
    const busy = await measureAnswers(server.url, layer);
    const drivesMs = performance.now() - started;
    console.log(`${workers} ${workers === 1 ? 'worker' : 'workers'}`);
    console.log(
      `  ${FILES} imports of ${TUNNELS} tunnels: ${importS.toFixed(1)} s, ${Math.round((FILES * TUNNELS) / importS)} tunnels/s`,
    );
    console.log(
      `  laid out by the server when it is opened: ${layS.toFixed(1)} s, ${Math.round(TUNNELS / layS)} tunnels/s`,
    );
    console.log(
      `  drives through ${TUNNELS} tunnels: ${(drivesMs / 1000).toFixed(1)} s, ${Math.round(TUNNELS / (drivesMs / 1000))} tunnels/s, ${(drivesMs / referenceMs).toFixed(2)} × reference`,
    );
    console.log(
      `  /healthz of the server: 95 % within ${idle.toFixed(1)} ms at rest, ${whileImporting.toFixed(1)} ms while they import, ${busy.toFixed(1)} ms while they drive`,
    );
    const memory = [server, ...running].map((one) => `${readPeakMb(one)} MB`);
    console.log(
      `  greatest memory of the server: ${memory[0]}; of each worker: ${memory.slice(1).join(', ')}`,
    );
    const bytes = Number(postgres.ask('select pg_database_size(current_database())', database));
    console.log(`  the database: ${(bytes / 1e6).toFixed(0)} MB for ${FILES} surveys`);
  } finally {
    for (const worker of running) await worker.stop();
    await server.stop();
  }
}

async function send(url: string): Promise<string> {
  const form = new FormData();
  form.set('file', new File([file], 'city.json'));
  const answer = await fetch(`${url}/api/surveys`, { method: 'POST', body: form });
  return ((await answer.json()) as SurveyView).id;
}

/** Asked of the database: a server that is asked lays out what it finds. */
async function waitUntilKept(postgres: OwnPostgres, database: string): Promise<void> {
  const ask = () => postgres.ask('select count(*) from jobs', database);
  while (ask() !== '0') await sleep(200);
}

/** The time that 95 % of the answers take until `over`, milliseconds. */
async function measureAnswers(url: string, over: Promise<unknown>): Promise<number> {
  const times: number[] = [];
  let isOver = false;
  const ended = over.finally(() => {
    isOver = true;
  });
  while (!isOver) {
    const started = performance.now();
    await (await fetch(`${url}/healthz`)).text();
    times.push(performance.now() - started);
    await sleep(20);
  }
  await ended;
  times.sort((a, b) => a - b);
  return times[Math.floor(times.length * 0.95)] ?? Number.NaN;
}

/** The most memory that a process has had, as Linux tells it. */
function readPeakMb({ process: { pid } }: Omit<RunningServer, 'url'>): number {
  const status = readFileSync(`/proc/${pid}/status`, 'utf8');
  return Math.round(Number(/VmHWM:\s+(\d+)/.exec(status)?.[1]) / 1024);
}

const folder = mkdtempSync(join(tmpdir(), 'boremark-workers-'));
const postgres = startPostgres({});
if (postgres === undefined) throw new Error('No PostgreSQL was found: install Debian’s postgresql');
try {
  const referenceMs = measureReference();
  console.log(
    `${TUNNELS} tunnels of 2 km with 4 ramps (${(file.length / 1e6).toFixed(1)} MB); ${cpus().length} cores`,
  );
  console.log(`the same drives in this process (reference): ${(referenceMs / 1000).toFixed(1)} s`);
  for (const workers of [1, 2]) await measure(postgres, folder, workers, referenceMs);
} finally {
  postgres.stop();
  rmSync(folder, { recursive: true, force: true });
}
process.exit(0);

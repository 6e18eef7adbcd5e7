/**
 * `npm run bench:import`: what reading a large file costs beside `osmium tags-filter w/tunnel`, and a long Overpass
 * answer beside osmtogeojson. The large file is made here, from small places, always the same. Processor time (user
 * and system, all threads) and the most memory of both programs are measured from outside, in turns; medians.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import osmtogeojson from 'osmtogeojson';
import { readExtract } from '../../server/extracts/read-extract.ts';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import { writeBigFile } from './import-file.ts';
import { writeLongAnswer } from './long-answer.ts';

const ROUNDS = 5;
const MEGABYTES = 150;
const ELEMENTS = 70_000;
const WARM_UP = 5;
const ANSWER_ROUNDS = 15;
const GOAL_CPU = 0.6;
const GOAL_RSS_MB = 300;

const root = join(import.meta.dirname, '../..');
const DEMO = join(root, 'data/demo/aldermouth.osm');
const SOURCES = [DEMO, join(root, 'tests/places/liechtenstein/liechtenstein.osm.pbf')];
const folder = mkdtempSync(join(tmpdir(), 'boremark-bench-'));

try {
  await compareFiles();
  await compareAnswers();
} finally {
  rmSync(folder, { recursive: true, force: true });
}

type Cost = { readonly cpuS: number; readonly rssMb: number; readonly wallS: number };

async function compareFiles(): Promise<void> {
  const path = join(folder, 'big.osm.pbf');
  const { nodes, ways, tunnelCopies } = await writeBigFile(path, SOURCES, MEGABYTES);
  const mb = statSync(path).size / 1e6;
  console.log(
    `PBF file of ${mb.toFixed(0)} MB, ${nodes} nodes, ${ways} ways, ${tunnelCopies} places with tunnels`,
  );
  const ours = [process.execPath, join(import.meta.dirname, 'read-file.mjs'), path];
  const out = join(folder, 'filtered.osm.pbf');
  const osmium = ['osmium', 'tags-filter', path, 'w/tunnel', '--overwrite', '--no-progress', '-o', out];
  const hasOsmium = spawnSync('osmium', ['--version']).status === 0;
  if (!hasOsmium) console.log('  osmium is not installed here: no comparison');
  const costs: { ours: Cost[]; osmium: Cost[] } = { ours: [], osmium: [] };
  for (let round = 0; round < ROUNDS; round += 1) {
    costs.ours.push(await measure(ours));
    if (hasOsmium) costs.osmium.push(await measure(osmium));
  }
  print('ours (near tunnels, to an extract)', costs.ours);
  const rss = median(costs.ours.map(({ rssMb }) => rssMb));
  console.log(
    `  memory ${rss.toFixed(0)} MB, goal ${GOAL_RSS_MB} MB: ${rss <= GOAL_RSS_MB ? 'met' : 'missed'}`,
  );
  if (!hasOsmium) return;
  print('osmium tags-filter w/tunnel (reference)', costs.osmium);
  const ratio = median(costs.ours.map(({ cpuS }) => cpuS)) / median(costs.osmium.map(({ cpuS }) => cpuS));
  console.log(
    `  CPU ${ratio.toFixed(2)} × osmium, goal ${GOAL_CPU}: ${ratio <= GOAL_CPU ? 'met' : 'missed'}`,
  );
}

function print(name: string, costs: readonly Cost[]): void {
  const cpu = median(costs.map(({ cpuS }) => cpuS)).toFixed(2);
  const wall = median(costs.map(({ wallS }) => wallS)).toFixed(2);
  const rss = median(costs.map(({ rssMb }) => rssMb)).toFixed(0);
  console.log(`  ${name.padEnd(42)} ${cpu} s CPU, ${wall} s on the clock, ${rss} MB`);
}

/** Runs a command under a shell that tells what it used, while its memory is watched. */
async function measure(command: readonly string[]): Promise<Cost> {
  const start = process.hrtime.bigint();
  const shell = spawn('sh', ['-c', '"$@" >/dev/null || exit 1; times', 'sh', ...command]);
  let text = '';
  shell.stdout.on('data', (chunk) => {
    text += chunk;
  });
  let rssMb = 0;
  const timer = setInterval(() => {
    rssMb = Math.max(rssMb, readPeakMb(shell));
  }, 20);
  const status = await new Promise<number | null>((resolve) => shell.on('close', resolve));
  clearInterval(timer);
  if (status !== 0) throw new Error(`${command[0]} failed`);
  const wallS = Number(process.hrtime.bigint() - start) / 1e9;
  return { cpuS: readChildrenS(text), rssMb, wallS };
}

/** The second line of `times`: what ended children used, as `0m1.23s 0m0.45s`. */
function readChildrenS(text: string): number {
  const parts = [...(text.trim().split('\n').at(-1) ?? '').matchAll(/(\d+)m([\d.]+)s/g)];
  return parts.reduce((sum, [, minutes, seconds]) => sum + 60 * Number(minutes) + Number(seconds), 0);
}

/** The most memory that the shell's child has held so far; 0 where the system does not tell. */
function readPeakMb({ pid }: ChildProcess): number {
  try {
    const child = readFileSync(`/proc/${pid}/task/${pid}/children`, 'utf8').trim();
    const status = readFileSync(`/proc/${child}/status`, 'utf8');
    return Number(/VmHWM:\s+(\d+)/.exec(status)?.[1] ?? 0) / 1024;
  } catch {
    return 0;
  }
}

async function compareAnswers(): Promise<void> {
  const text = await writeLongAnswer(DEMO, ELEMENTS);
  const bytes = Buffer.from(text);
  console.log(`Overpass answer of ${ELEMENTS} elements, ${(bytes.length / 1e6).toFixed(1)} MB`);
  const rounds: AnswerTimes[] = [];
  for (let round = 0; round < WARM_UP + ANSWER_ROUNDS; round += 1) rounds.push(await timeAnswer(text, bytes));
  // A server that has just started compiles as it goes; ours is more code.
  console.log(`  the very first time ${ratioOf([rounds[0] as AnswerTimes]).toFixed(2)} × osmtogeojson`);
  const warm = rounds.slice(WARM_UP);
  const reference = median(warm.map((times) => times.reference));
  for (const name of ['decode', 'network', 'reference'] as const) {
    const ms = median(warm.map((times) => times[name]));
    console.log(`  ${name.padEnd(42)} ${ms.toFixed(0)} ms  ${(ms / reference).toFixed(2)} × reference`);
  }
  const ratio = ratioOf(warm);
  console.log(
    `  together ${ratio.toFixed(2)} × osmtogeojson (median of ${warm.length} pairs), goal 1.0: ${ratio <= 1 ? 'met' : 'missed'}`,
  );
}

/** Milliseconds on the clock. */
type AnswerTimes = { readonly decode: number; readonly network: number; readonly reference: number };

async function timeAnswer(text: string, bytes: Buffer): Promise<AnswerTimes> {
  const start = now();
  const extract = await readExtract(Readable.from([bytes]), { name: 'answer' });
  if (!extract.ok) throw new Error(extract.refusal.code);
  const decoded = now();
  const { links } = buildNetwork(extract.value, NETWORK_RULES).value;
  const built = now();
  const { features } = osmtogeojson(JSON.parse(text));
  const converted = now();
  if (links.length === 0 || features.length === 0) throw new Error('nothing was found');
  return { decode: decoded - start, network: built - decoded, reference: converted - built };
}

/** Of pairs, each taken one right after the other: whatever else the machine does, it does to both. */
function ratioOf(rounds: readonly AnswerTimes[]): number {
  return median(rounds.map(({ decode, network, reference }) => (decode + network) / reference));
}

function now(): number {
  return Number(process.hrtime.bigint()) / 1e6;
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

/**
 * `npm run bench`: what the core does per second, each figure as a ratio to a named reference that does the same
 * job in the same run. Seeded, median of several rounds; the results are kept alive so that nothing is optimised away.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { along, length, lineString } from '@turf/turf';
import geographiclib from 'geographiclib-geodesic';
import osmtogeojson from 'osmtogeojson';
import { readExtract } from '../../server/extracts/read-extract.ts';
import { makeRuler } from '../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { moveBy, segmentLengthM } from '../../shared/geodesy/segment.ts';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { OsmExtract } from '../../shared/osm/extract.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';

const ROUNDS = 7;
const wgs84 = geographiclib.Geodesic.WGS84;

type Job = { readonly name: string; readonly run: () => number | Promise<number> };

const kept: number[] = [];
await compare('length of 20,000 segments of 5 to 50 m', lengthJobs());
await compare('2,000 beacons placed at 40 m', placementJobs());
await compare('demo city: JSON text to network', await networkJobs());
await compare('demo city: every design laid out anew', await designJobs());
console.log(`(kept alive: ${kept.length} results)`);

/** Prints the median time of each job and its ratio to the last one, the reference. */
async function compare(title: string, jobs: readonly Job[]): Promise<void> {
  const times = new Map<Job, number[]>(jobs.map((job) => [job, []]));
  for (let round = 0; round <= ROUNDS; round += 1) {
    // In turn, so that a slow moment of the machine hits all of them; round 0 warms up.
    for (const job of jobs) {
      const start = process.hrtime.bigint();
      kept.push(await job.run());
      const ms = Number(process.hrtime.bigint() - start) / 1e6;
      if (round > 0) times.get(job)?.push(ms);
    }
  }
  console.log(title);
  const reference = median(times.get(jobs.at(-1) as Job) ?? []);
  for (const job of jobs) {
    const ms = median(times.get(job) ?? []);
    console.log(
      `  ${job.name.padEnd(44)} ${ms.toFixed(2).padStart(9)} ms  ${(ms / reference).toFixed(3)} × reference`,
    );
  }
}

function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.floor(sorted.length / 2)] ?? Number.NaN;
}

function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

function wander(points: number): LonLat[] {
  const random = seeded(7);
  const line: LonLat[] = [[-20, 46]];
  let heading = 0;
  for (let i = 1; i < points; i += 1) {
    heading += (random() - 0.5) * 0.3;
    const stepM = 5 + 45 * random();
    line.push(moveBy(line[i - 1] as LonLat, stepM * Math.sin(heading), stepM * Math.cos(heading)));
  }
  return line;
}

function lengthJobs(): readonly Job[] {
  const line = wander(20_001);
  const feature = lineString(line.map(([lon, lat]) => [lon, lat]));
  const sum = (measure: (a: LonLat, b: LonLat) => number) => {
    let total = 0;
    for (let i = 1; i < line.length; i += 1) total += measure(line[i - 1] as LonLat, line[i] as LonLat);
    return total;
  };
  return [
    { name: 'ours (ellipsoidal)', run: () => sum(segmentLengthM) },
    { name: '@turf/length (spherical)', run: () => length(feature, { units: 'meters' }) },
    {
      name: 'geographiclib-geodesic (reference)',
      run: () => sum((a, b) => wgs84.Inverse(a[1], a[0], b[1], b[0]).s12 ?? 0),
    },
  ];
}

function placementJobs(): readonly Job[] {
  const line = wander(2_700);
  const feature = lineString(line.map(([lon, lat]) => [lon, lat]));
  return [
    {
      name: 'ours (makeRuler, pointAt)',
      run: () => {
        const ruler = makeRuler(line);
        let sum = 0;
        for (let i = 0; i < 2_000; i += 1) {
          const at = ruler.pointAt(Math.min(ruler.lengthM, i * 36));
          if (at.ok) sum += at.value[0];
        }
        return sum;
      },
    },
    {
      name: '@turf/along, one call a beacon (reference)',
      run: () => {
        let sum = 0;
        for (let i = 0; i < 2_000; i += 1)
          sum += along(feature, i * 36, { units: 'meters' }).geometry.coordinates[0] ?? 0;
        return sum;
      },
    },
  ];
}

async function readDemo(): Promise<OsmExtract> {
  const bytes = readFileSync(join(import.meta.dirname, '../../data/demo/aldermouth.osm'));
  const extract = await readExtract(Readable.from([bytes]), { name: 'demo' });
  if (!extract.ok) throw new Error(extract.refusal.code);
  return extract.value;
}

async function networkJobs(): Promise<readonly Job[]> {
  const extract = await readDemo();
  const text = JSON.stringify({
    elements: [
      ...extract.nodes.map((node) => ({ type: 'node', ...node })),
      ...extract.ways.map((way) => ({ type: 'way', ...way })),
      ...extract.relations.map((relation) => ({ type: 'relation', ...relation })),
    ],
  });
  return [
    {
      name: 'ours (decode and network)',
      run: async () => {
        const read = await readExtract(Readable.from([Buffer.from(text)]), { name: 'demo' });
        return read.ok ? buildNetwork(read.value, NETWORK_RULES).value.links.length : 0;
      },
    },
    {
      name: 'osmtogeojson, conversion alone (reference)',
      run: () => osmtogeojson(JSON.parse(text) as never).features.length,
    },
  ];
}

async function designJobs(): Promise<readonly Job[]> {
  const extract = await readDemo();
  const networks = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  const rulers = networks.flatMap((network) => network.links.map((link) => link.line));
  return [
    {
      name: 'ours (placement and coverage)',
      run: () =>
        networks.reduce(
          (sum, network) =>
            sum + designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value.beacons.length,
          0,
        ),
    },
    {
      name: '@turf/length of every link (reference)',
      run: () =>
        rulers.reduce((sum, line) => sum + length(lineString(line.map(([lon, lat]) => [lon, lat]))), 0),
    },
  ];
}

import { along, lineString } from '@turf/turf';
import { makeRuler } from '../../shared/alignment/make-ruler.ts';
import { placeBeside } from '../../shared/alignment/place-beside.ts';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { type RateJob, seeded } from './compare.ts';
import { type Postgis, SPACING_M } from './postgis.ts';
import { wander } from './wander.ts';

/** As many lines of some 2 km as carry about a million beacons. */
const LINES = 20_000;
const POINTS = 74;
/** Turf is too slow for all of them. */
const TURF_LINES = 200;
const WALL_M = 4.5;

/** The seeded lines, spread over the middle latitudes. */
export function drawLines(): readonly (readonly LonLat[])[] {
  const random = seeded(11);
  return Array.from({ length: LINES }, (_, i) =>
    wander(POINTS, i + 1, [360 * random() - 180, 40 + 15 * random()]),
  );
}

/** Beacons on every line at equal intervals of at most 40 m: measured, and put where they stand. */
export async function placementJobs(
  lines: readonly (readonly LonLat[])[],
  postgis: Postgis | undefined,
): Promise<readonly RateJob[]> {
  const some = lines.slice(0, TURF_LINES);
  return [
    {
      name: 'ours (makeRuler, pointAt)',
      count: countBeacons(lines),
      run: () => sumLines(lines, (ruler, chainageM) => ruler.pointAt(chainageM)),
    },
    {
      name: 'ours, on the wall (placeBeside)',
      count: countBeacons(lines),
      run: () => sumLines(lines, (ruler, chainageM) => placeBeside(ruler, chainageM, WALL_M)),
    },
    {
      name: `@turf/along, one call a beacon (${TURF_LINES} of the lines)`,
      count: countBeacons(some),
      isReference: true,
      goal: 50,
      run: turfJob(some),
    },
    ...(postgis === undefined ? [] : [await postgisJob(postgis, lines)]),
  ];
}

type Ruler = ReturnType<typeof makeRuler>;

function sumLines(
  lines: readonly (readonly LonLat[])[],
  place: (ruler: Ruler, chainageM: number) => ReturnType<Ruler['pointAt']>,
): number {
  let sum = 0;
  for (const line of lines) {
    const ruler = makeRuler(line);
    const intervals = Math.ceil(ruler.lengthM / SPACING_M);
    for (let i = 1; i <= intervals; i += 1) {
      const at = place(ruler, (ruler.lengthM * i) / intervals);
      if (!at.ok) throw new Error(at.refusal.code);
      sum += at.value[0];
    }
  }
  return sum;
}

function countBeacons(lines: readonly (readonly LonLat[])[]): number {
  return lines.reduce((sum, line) => sum + Math.ceil(makeRuler(line).lengthM / SPACING_M), 0);
}

/** The lengths are given to turf: only its placing is measured. */
function turfJob(lines: readonly (readonly LonLat[])[]): () => number {
  const drawn = lines.map((line) => ({
    feature: lineString(line.map(([lon, lat]) => [lon, lat])),
    lengthM: makeRuler(line).lengthM,
  }));
  return () => {
    let sum = 0;
    for (const { feature, lengthM } of drawn) {
      const intervals = Math.ceil(lengthM / SPACING_M);
      for (let i = 1; i <= intervals; i += 1) {
        const at = along(feature, (lengthM * i) / intervals, { units: 'meters' });
        sum += at.geometry.coordinates[0] ?? 0;
      }
    }
    return sum;
  };
}

async function postgisJob(postgis: Postgis, lines: readonly (readonly LonLat[])[]): Promise<RateJob> {
  const { beacons, lengthM } = postgis.load(lines);
  const ownM = lines.reduce((sum, line) => sum + makeRuler(line).lengthM, 0);
  // Both must have done the same: to a millimetre per kilometre and to the odd beacon that rounding adds.
  if (Math.abs(lengthM / ownM - 1) > 1e-6) throw new Error(`PostGIS measured ${lengthM} m, we ${ownM} m`);
  if (Math.abs(beacons / countBeacons(lines) - 1) > 1e-3)
    throw new Error(`PostGIS placed ${beacons} beacons`);
  return {
    name: `PostGIS ${postgis.version}, ST_Length and ST_LineInterpolatePoints`,
    count: beacons,
    isReference: true,
    goal: 8,
    timesItself: true,
    run: () => postgis.timeMs(),
  };
}

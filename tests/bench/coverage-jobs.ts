import { buffer, point } from '@turf/turf';
import { listBeacons } from '../../shared/pipeline/design-complex.ts';
import { makeWallPlacer } from '../../shared/placement/place-on-wall.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeCoverage } from '../../shared/radio/cover-bores.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { RateJob } from './compare.ts';
import { drawCity } from './draw-city.ts';

const BEACONS = 100_000;
const RADIUS_M = 100;
/** Turf is too slow for all of them. */
const TURF_BEACONS = 500;
const TUNNEL = { lengthM: 2_400, ramps: 6, rampM: 400 };
/** So many such tunnels have more than enough beacons. */
const TUNNELS = 1_000;

/** The stretches along which each of 100,000 beacons is heard, through forks and merges. */
export function coverageJobs(): readonly RateJob[] {
  let left = BEACONS;
  const city = drawCity(TUNNELS, TUNNEL).map((network) => {
    const all = listBeacons(network, DEFAULT_RULES, makeScheme(network.complex.id));
    const beacons = all.slice(0, left);
    left -= beacons.length;
    return { network, beacons };
  });
  if (left > 0) throw new Error(`${left} beacons are missing`);
  const places = city
    .slice(0, 50)
    .flatMap(({ network, beacons }) => beacons.map(makeWallPlacer(network.links)))
    .slice(0, TURF_BEACONS)
    .map((at) => point([...at]));
  return [
    {
      name: `ours (makeCoverage, ${RADIUS_M} m along the bores)`,
      count: BEACONS,
      run: () => {
        let stretches = 0;
        for (const { network, beacons } of city) {
          const cover = makeCoverage(network.links);
          for (const { at } of beacons) stretches += cover(at, RADIUS_M).length;
        }
        return stretches;
      },
    },
    {
      name: `@turf/buffer of a point: a disc, no bores (${TURF_BEACONS} of them)`,
      count: places.length,
      isReference: true,
      run: () =>
        places.reduce((sum, place) => {
          const disc = buffer(place, RADIUS_M, { units: 'meters' });
          return sum + (disc?.geometry.coordinates[0]?.length ?? 0);
        }, 0),
    },
  ];
}

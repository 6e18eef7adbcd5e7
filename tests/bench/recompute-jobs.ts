import { along, lineString } from '@turf/turf';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import type { Job } from './compare.ts';
import { drawCity } from './draw-city.ts';
import { wander } from './wander.ts';

const TUNNEL = { lengthM: 4_000, ramps: 10, rampM: 320 };

/** One large tunnel with forks, all of it after one rule was changed: layout, coverage, checks, survival. */
export function recomputeJobs(): { readonly beacons: number; readonly jobs: readonly Job[] } {
  const [network] = drawCity(1, TUNNEL);
  if (network === undefined) throw new Error('no tunnel was drawn');
  const scheme = makeScheme(network.complex.id);
  const design = designComplex(network, DEFAULT_RULES, scheme).value;
  const beacons = design.beacons.length;
  const line = lineString(wander(Math.ceil((beacons * DEFAULT_RULES.spacingM) / 20)).map((at) => [...at]));
  let turn = 0;
  return {
    beacons,
    jobs: [
      {
        name: 'ours (designComplex, spacing 39.5 m and 40 m in turn)',
        run: () => {
          turn += 1;
          const spacingM = turn % 2 === 0 ? 40 : 39.5;
          return designComplex(network, { ...DEFAULT_RULES, spacingM }, scheme).value.beacons.length;
        },
      },
      {
        name: '@turf/along for as many beacons: places on one line alone',
        run: () => {
          let sum = 0;
          for (let i = 0; i < beacons; i += 1) {
            sum += along(line, i * 40, { units: 'meters' }).geometry.coordinates[0] ?? 0;
          }
          return sum;
        },
      },
      {
        name: 'the design through JSON and back (reference)',
        run: () => (JSON.parse(JSON.stringify(design)) as typeof design).beacons.length,
      },
    ],
  };
}

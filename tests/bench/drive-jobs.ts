import { buildDrive, findFailures } from '../../shared/drive/build-drive.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { type Job, seeded } from './compare.ts';
import { drawCity } from './draw-city.ts';

const TUNNEL = { lengthM: 4_000, ramps: 10, rampM: 320 };
const DRIVES = 2_000;

/** The simulated drives of one large tunnel: 2,000 on each of 20 routes or more, without its beacons and with them. */
export function driveJobs(): { readonly title: string; readonly jobs: readonly Job[] } {
  const [network] = drawCity(1, TUNNEL);
  if (network === undefined) throw new Error('no tunnel was drawn');
  const design = designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value;
  const { routes } = buildDrive(network, design, { drives: 1 });
  const passed = routes.reduce((sum, { lengthM }) => sum + Math.ceil(lengthM / DEFAULT_RULES.spacingM), 0);
  let seed = 0;
  return {
    title: `${DRIVES} drives on each of ${routes.length} routes (goal: below 1000 ms)`,
    jobs: [
      {
        name: 'ours (buildDrive: errors, decisions, forks)',
        run: () => {
          seed += 1;
          return buildDrive(network, design, { drives: DRIVES, seed }).decisions.length;
        },
      },
      {
        name: 'ours (findFailures, 500 drives, decisions alone)',
        run: () => findFailures(network, design).length,
      },
      {
        name: `one normal deviate for each of ${passed} beacons and drive (reference)`,
        run: () => addDeviates(passed * DRIVES),
      },
    ],
  };
}

/** The polar method's textbook cousin, two at a time: what a plain simulation would draw its fixes with. */
function addDeviates(count: number): number {
  const random = seeded(1);
  let sum = 0;
  for (let i = 0; i < count; i += 2) {
    const radius = Math.sqrt(-2 * Math.log(1 - random()));
    const turn = 2 * Math.PI * random();
    sum += radius * Math.cos(turn) + radius * Math.sin(turn);
  }
  return sum;
}

import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import type { ComplexNetwork } from '../network/network.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import { makeScheme, type Scheme } from '../scheme/scheme.ts';
import { designComplex } from './design-complex.ts';
import { getTunnel } from './drawn-networks.fixture.ts';

const street = { highway: 'service', tunnel: 'yes', oneway: 'no', maxspeed: '50' };
const SIDE = 6;
const STEP_M = 15;

/** Streets under one roof, six one way and six across, 15 m apart, with a portal at two corners: ways without number. */
function drawMesh(): ComplexNetwork {
  const idOf = (i: number, k: number) => 1000 + 100 * i + k;
  const numbers = Array.from({ length: SIDE }, (_, i) => i);
  const last = SIDE - 1;
  const crossings = numbers.flatMap((i) =>
    numbers.map((k) => [idOf(i, k), [i * STEP_M, k * STEP_M]] as const),
  );
  const lines = numbers.flatMap((i) => [
    { id: 100 + i, nodes: numbers.map((k) => idOf(i, k)), tags: street },
    { id: 200 + i, nodes: numbers.map((k) => idOf(k, i)), tags: street },
  ]);
  return getTunnel(
    drawPlace({
      nodes: { 1: [-60, 0], 2: [last * STEP_M + 60, last * STEP_M], ...Object.fromEntries(crossings) },
      ways: [
        { id: 11, nodes: [1, idOf(0, 0)], tags: street },
        { id: 12, nodes: [idOf(last, last), 2], tags: street },
        ...lines,
      ],
    }),
  );
}

const network = drawMesh();

function design(own: Partial<Rules>, keepOuts: Scheme['keepOuts'] = []) {
  const scheme = { ...makeScheme(network.complex.id), keepOuts };
  const { value } = designComplex(network, { ...DEFAULT_RULES, minimumOutageS: 0, ...own }, scheme);
  const statusOf = (rule: string) => value.checks.find((check) => check.rule === rule)?.status;
  return { ...value, statusOf };
}

/** Every one of these would look at millions of ways and more, were each of them followed. */
describe('a mesh of bores', () => {
  it('is designed with enough beacons in sight of every crossing', () => {
    const { statusOf } = design({ decisionTimeS: 20 });
    expect([statusOf('gap'), statusOf('decision-sight')]).toEqual(['met', 'met']);
  });

  it('is designed where beacons are heard all over it', () => {
    const { statusOf } = design({ coverageRadiusM: 500 });
    expect([statusOf('gap'), statusOf('sister-pairs')]).toEqual(['met', 'note']);
  });

  it('is designed with few beacons', () => {
    const { statusOf, beacons } = design({ method: 'fewest', decisionTimeS: 20 });
    expect(statusOf('gap')).toBe('met');
    expect(beacons.length).toBeLessThan(design({ decisionTimeS: 20 }).beacons.length);
    const wide = design({ method: 'fewest', spacingM: 500, branchConfirmationM: 200 });
    expect(wide.beacons.length).toBeGreaterThan(0);
  });

  it('is told of where nothing may be mounted anywhere', () => {
    const keepOuts = network.links.map(({ id, lengthM }) => {
      return { id: `k${id}`, linkId: id, fromM: 0, toM: lengthM, wall: 'both', reason: '' } as const;
    });
    for (const method of ['even', 'fewest'] as const) {
      const { beacons, statusOf } = design({ method }, keepOuts);
      expect(beacons).toEqual([]);
      expect([statusOf('gap'), statusOf('branch-confirmation')]).toEqual(['not met', 'not met']);
    }
  });
});

import { describe, expect, it } from 'vitest';
import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import { listComplexNetworks } from '../pipeline/build-survey.ts';
import { designComplex } from '../pipeline/design-complex.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { makeScheme } from '../scheme/scheme.ts';
import {
  toBoreFeatures,
  toComplexFeature,
  toDecisionFeatures,
  toPortalFeatures,
} from './to-network-features.ts';

const trunk = { highway: 'trunk', oneway: 'yes', maxspeed: '80' };
const ramp = { highway: 'trunk_link', oneway: 'yes', maxspeed: '30 mph' };

/** A one-way bore 2–4 of 500 m; a ramp leaves it below ground at node 3, and right at its mouth two roads leave at node 4. */
const [network] = listComplexNetworks(
  buildNetwork(
    drawPlace({
      nodes: {
        1: [-400, 0],
        2: [-250, 0],
        3: [0, 0],
        4: [250, 0],
        5: [400, 0],
        6: [160, -120],
        7: [300, -200],
        8: [350, 60],
        9: [340, -70],
      },
      ways: [
        { id: 10, nodes: [1, 2], tags: trunk },
        { id: 11, nodes: [2, 3, 4], tags: { ...trunk, tunnel: 'yes', name: 'Gull Hill', lanes: '2' } },
        { id: 12, nodes: [4, 5], tags: trunk },
        { id: 13, nodes: [3, 6], tags: { ...ramp, tunnel: 'yes', destination: 'Old Quay', lanes: '1' } },
        { id: 14, nodes: [6, 7], tags: ramp },
        { id: 15, nodes: [4, 8], tags: { ...ramp, destination: 'Mole' } },
        { id: 16, nodes: [4, 9], tags: { ...ramp, destination: 'Quarry' } },
      ],
    }),
    NETWORK_RULES,
  ).value,
);
if (network === undefined) throw new Error('no tunnel');
const design = designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value;

describe('the exported figures', () => {
  it('of a tunnel are those of the drawing', () => {
    expect(toComplexFeature(network, design)).toMatchObject({
      id: 't11',
      geometry: { type: 'MultiLineString' },
      properties: {
        name: 'Gull Hill',
        kind: 'tunnel',
        boreCount: 1,
        // 500 m and √(160² + 120²) = 200 m.
        lengthM: 700,
        longestRouteM: 500,
        portalCount: 3,
        divergeCount: 1,
        mergeCount: 0,
        decisionCount: 2,
        // The ramp below ground; the roads at the mouth leave in the open air.
        exitCount: 1,
        maxspeedKmh: 80,
        roadClass: 'trunk',
        // 250 m at 80 km/h and 200 m at 30 mph (13.4112 m/s) are longer than 500 m at 80 km/h.
        outageS: 26.2,
        status: 'planned',
        assumed: ['width'],
        osmWays: [11, 13],
      },
    });
  });

  it('of a bore have its own limit, and its line in the direction of travel', () => {
    const bores = toBoreFeatures(network);
    const figures = bores.map(({ properties }) => [
      properties?.fromNode,
      properties?.toNode,
      properties?.lengthM,
      properties?.oneway,
      properties?.maxspeedKmh,
      properties?.lanes,
    ]);
    expect(figures).toEqual([
      [2, 3, 250, true, 80, 2],
      [3, 4, 250, true, 80, 2],
      [3, 6, 200, true, 48.3, 1],
    ]);
  });

  it('of portals and decisions say which way and where to', () => {
    const portals = toPortalFeatures(network).map(({ id, properties }) => [id, properties?.direction]);
    expect(portals).toEqual([
      ['t11/n2', 'in'],
      ['t11/n4', 'out'],
      ['t11/n6', 'out'],
    ]);
    const decisions = toDecisionFeatures(network, DEFAULT_RULES).map(({ properties }) => [
      properties?.osmNode,
      properties?.distanceFromFixM,
      properties?.branches,
    ]);
    expect(decisions).toMatchObject([
      [
        3,
        250,
        [
          { exit: false, underground: true, label: 'Gull Hill' },
          { exit: true, underground: true, label: 'Old Quay' },
        ],
      ],
      [
        4,
        500,
        [
          { exit: false, underground: false },
          { exit: true, underground: false, label: 'Mole' },
          { exit: true, underground: false, label: 'Quarry' },
        ],
      ],
    ]);
  });
});

import fc from 'fast-check';
import type { PlaceDrawing } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { OsmExtract, Tags } from '../osm/extract.ts';
import type { BeaconId, Pin } from '../placement/beacon.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import { listComplexNetworks } from './build-survey.ts';

const BORE: Tags = { highway: 'trunk', tunnel: 'yes', lanes: '2', maxspeed: '80' };
const RAMP: Tags = { ...BORE, highway: 'trunk_link', lanes: '1', maxspeed: '50' };

type Metres = readonly [number, number];

/** The one tunnel of an extract. */
export function getTunnel(extract: OsmExtract): ComplexNetwork {
  const [network, ...others] = listComplexNetworks(buildNetwork(extract, NETWORK_RULES).value);
  if (network === undefined || others.length > 0) throw new Error('not one tunnel');
  return network;
}

const length = (min: number, max: number) => fc.integer({ min, max });

/** A ramp that leaves the main bore or joins it. */
const ramp = fc.record({
  at: fc.integer({ min: 5, max: 95 }),
  lengthM: length(20, 300),
  joins: fc.boolean(),
  isLeft: fc.boolean(),
});

/** A straight bore, one-way or two-way, with up to three ramps: forks, merges, and both close together. */
function mainBore(isTwoWay: boolean): fc.Arbitrary<PlaceDrawing> {
  const oneway = isTwoWay ? 'no' : 'yes';
  const ramps = fc.uniqueArray(ramp, { maxLength: 3, selector: ({ at }) => at });
  return fc.tuple(length(60, 900), ramps).map(([lengthM, drawn]) => {
    const sorted = [...drawn].sort((a, b) => a.at - b.at);
    const nodes: Record<number, Metres> = { 1: [0, 0], 2: [lengthM, 0] };
    sorted.forEach(({ at, lengthM: rampM, joins, isLeft }, i) => {
      const forkM = (at / 100) * lengthM;
      nodes[10 + i] = [forkM, 0];
      nodes[30 + i] = [forkM + (joins ? -0.95 : 0.95) * rampM, (isLeft ? 0.3122 : -0.3122) * rampM];
    });
    const forks = sorted.map((_, i) => 10 + i);
    return {
      nodes,
      ways: [
        { id: 11, nodes: [1, ...forks, 2], tags: { ...BORE, oneway } },
        ...sorted.map(({ joins }, i) => ({
          id: 20 + i,
          nodes: joins ? [30 + i, 10 + i] : [10 + i, 30 + i],
          tags: { ...RAMP, oneway },
        })),
      ],
    };
  });
}

/** A roundabout below ground, driven counter-clockwise, with two to four two-way arms. */
const roundabout: fc.Arbitrary<PlaceDrawing> = fc
  .tuple(length(15, 80), fc.array(length(30, 300), { minLength: 2, maxLength: 4 }))
  .map(([radiusM, arms]) => {
    const at = (index: number, fromMiddleM: number): Metres => {
      const turn = (2 * Math.PI * index) / arms.length;
      return [fromMiddleM * Math.cos(turn), fromMiddleM * Math.sin(turn)];
    };
    const nodes: Record<number, Metres> = {};
    arms.forEach((armM, i) => {
      nodes[10 + i] = at(i, radiusM);
      nodes[20 + i] = at(i + 0.5, radiusM);
      nodes[30 + i] = at(i, radiusM + armM);
    });
    const ring = arms.flatMap((_, i) => [10 + i, 20 + i]);
    return {
      nodes,
      ways: [
        { id: 11, nodes: [...ring, 10], tags: { ...BORE, junction: 'roundabout' } },
        ...arms.map((_, i) => ({ id: 20 + i, nodes: [30 + i, 10 + i], tags: { ...BORE, oneway: 'no' } })),
      ],
    };
  });

/** A two-way bore that ends in a loop. */
const loop: fc.Arbitrary<PlaceDrawing> = fc.tuple(length(30, 400), length(20, 150)).map(([stemM, sideM]) => ({
  nodes: {
    1: [-stemM, 0],
    2: [0, 0],
    3: [sideM, sideM],
    4: [2 * sideM, 0],
    5: [sideM, -sideM],
  },
  ways: [
    { id: 11, nodes: [1, 2], tags: { ...BORE, oneway: 'no' } },
    { id: 12, nodes: [2, 3, 4, 5, 2], tags: { ...BORE, oneway: 'no' } },
  ],
}));

/** Two-way bores only, so that every way can be drawn the other way round. */
export const twoWayDrawing: fc.Arbitrary<PlaceDrawing> = fc.oneof(mainBore(true), loop);

/** Any network. */
export const drawing: fc.Arbitrary<PlaceDrawing> = fc.oneof(
  { arbitrary: mainBore(false), weight: 3 },
  { arbitrary: mainBore(true), weight: 2 },
  roundabout,
  loop,
);

/** Any rules, for a tunnel that is designed however short it is. */
export const anyRules: fc.Arbitrary<Rules> = fc
  .record({
    spacingM: length(15, 90),
    portalOffsetM: length(0, 20),
    closestM: length(0, 40),
    redundancy: length(1, 3),
    coverageDepth: length(1, 3),
    coverageRadiusM: length(20, 90),
    branchConfirmationM: length(10, 80),
    decisionBeacons: length(0, 3),
    side: fc.constantFrom(...(['near', 'left', 'right', 'alternate', 'both'] as const)),
    drivingSide: fc.constantFrom(...(['left', 'right'] as const)),
  })
  .map((own) => ({ ...DEFAULT_RULES, minimumOutageS: 0, ...own }));

/** Something on some link, where it lies as shares of the links and of the link's length. */
const somewhere = fc.record({ link: fc.nat(), share: fc.integer({ min: 0, max: 100 }) });

/** Up to three beacons that people put somewhere, and up to three keep-outs. */
export const handwork = fc.record({
  pins: fc.array(somewhere, { maxLength: 3 }),
  keepOuts: fc.array(
    fc.record({
      from: somewhere,
      lengthM: length(2, 60),
      wall: fc.constantFrom(...(['left', 'right', 'both'] as const)),
    }),
    { maxLength: 3 },
  ),
});
export type Handwork = typeof handwork extends fc.Arbitrary<infer T> ? T : never;

/** The same for a network: ids that people's edits give. */
export function placeHandwork({ links }: ComplexNetwork, { pins, keepOuts }: Handwork) {
  const find = ({ link: number, share }: { readonly link: number; readonly share: number }) => {
    const link = links[number % links.length];
    if (link === undefined) throw new Error('a tunnel without links');
    return { link, chainageM: (share / 100) * link.lengthM };
  };
  return {
    pins: pins.map((place, i): Pin => {
      const { link, chainageM } = find(place);
      return { id: `m${i + 1}` as BeaconId, at: { linkId: link.id, chainageM }, anchor: 'chainage' };
    }),
    keepOuts: keepOuts.flatMap(({ from, lengthM, wall }, i): KeepOut[] => {
      const { link, chainageM: fromM } = find(from);
      const toM = Math.min(link.lengthM, fromM + lengthM);
      return toM - fromM < 1 ? [] : [{ id: `k${i + 1}`, linkId: link.id, fromM, toM, wall, reason: '' }];
    }),
  };
}

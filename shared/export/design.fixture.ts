import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { ComplexNetwork, Link } from '../network/network.ts';
import type { Beacon, BeaconId, Wall } from '../placement/beacon.ts';
import type { Design } from '../placement/design.ts';
import { DEFAULT_RULES } from '../placement/rules.ts';
import { wallOffsetM } from '../placement/wall-offset.ts';
import { makeCoverage } from '../radio/cover-bores.ts';

/** A bore of 400 m to the east, two lanes of 3.5 m, without a bend. */
const bore = { highway: 'trunk', oneway: 'yes', tunnel: 'yes', lanes: '2', maxspeed: '80' };
const { links, complexes } = buildNetwork(
  drawPlace({ nodes: { 1: [0, 0], 2: [400, 0] }, ways: [{ id: 11, nodes: [1, 2], tags: bore }] }),
  NETWORK_RULES,
).value;
export const network: ComplexNetwork = { complex: getFirst(complexes), links };

/** A design whose beacons stand where they are put, each with its own radius. */
export function makeDesign(
  places: readonly { readonly chainageM: number; readonly wall: Wall; readonly radiusM: number }[],
): Design {
  const link: Link = getFirst(network.links);
  const cover = makeCoverage(network.links);
  const beacons = places.map(({ chainageM, wall }, index): Beacon => {
    const at = { linkId: link.id, chainageM };
    const offsetM = wallOffsetM(link, chainageM, DEFAULT_RULES, wall);
    const id = `b${index + 1}` as BeaconId;
    return {
      id,
      at,
      anchor: 'chainage',
      role: 'manual',
      side: wall,
      offsetM,
      heightM: 3,
      locked: true,
    };
  });
  const coverage = beacons.map(({ id, at }, index) => {
    const { radiusM } = places[index] as (typeof places)[number];
    return { beaconId: id, radiusM, stretches: cover(at, radiusM) };
  });
  return { complexId: network.complex.id, rules: DEFAULT_RULES, beacons, coverage, checks: [] };
}

function getFirst<T>(list: readonly T[]): T {
  const [first] = list;
  if (first === undefined) throw new Error('the drawing gave nothing');
  return first;
}

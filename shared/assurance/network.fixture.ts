import { drawPlace } from '../../tests/places/draw-place.ts';
import { buildNetwork, NETWORK_RULES } from '../network/build-network.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import type { Design } from '../placement/design.ts';
import { makeCoverage } from '../radio/cover-bores.ts';

/** Node id → metres east and north. */
export type Nodes = Readonly<Record<number, readonly [number, number]>>;
/** A way by its nodes, a one-way primary road in a tunnel unless its tags say otherwise. */
export type DrawnWay = readonly number[] | { readonly nodes: readonly number[]; readonly tags: object };

const bore = { highway: 'primary', tunnel: 'yes', maxspeed: '50', oneway: 'yes', name: 'Test Tunnel' };

/** The first complex of a drawing; ways are numbered from 11. */
export function drawNetwork(nodes: Nodes, ways: readonly DrawnWay[], tags: object = {}): ComplexNetwork {
  const drawn = ways.map((way, i) => {
    const own = 'tags' in way ? way.tags : {};
    return { id: 11 + i, nodes: [...('tags' in way ? way.nodes : way)], tags: { ...bore, ...tags, ...own } };
  });
  const { complexes, links } = buildNetwork(drawPlace({ nodes, ways: drawn }), NETWORK_RULES).value;
  const complex = complexes[0];
  if (complex === undefined) throw new Error('the drawing has no tunnel');
  return { complex, links: links.filter(({ id }) => complex.linkIds.includes(id)) };
}

/** Along which stretches beacons are heard that all reach as far. */
export function hear({ links }: ComplexNetwork, beacons: readonly Beacon[], radiusM: number) {
  const cover = makeCoverage(links);
  return beacons.map(({ id, at, radiusM: own = radiusM }): Design['coverage'][number] => ({
    beaconId: id,
    radiusM: own,
    stretches: cover(at, own),
  }));
}

import type { Link } from '../network/network.ts';
import type { Beacon } from './beacon.ts';

/** A beacon as it is met along one link: its own, or one that stands at an end that it shares with other links. */
export type PlaceOnLink = { readonly beacon: Beacon; readonly chainageM: number; readonly isOwn: boolean };

/** How far from an end a beacon still stands at the end's node, metres. */
const AT_END_M = 0.01;

/**
 * The beacons along a link in the order of its chainage. At a node where links meet stands one beacon for all of
 * them: it belongs to one link and is met on the others too.
 */
export function listPlaces(
  link: Link,
  links: readonly Link[],
  beacons: readonly Beacon[],
): readonly PlaceOnLink[] {
  const byId = new Map(links.map((one) => [one.id, one]));
  const places = beacons.flatMap((beacon): PlaceOnLink[] => {
    if (beacon.at.linkId === link.id) return [{ beacon, chainageM: beacon.at.chainageM, isOwn: true }];
    const node = findEndNode(byId.get(beacon.at.linkId), beacon.at.chainageM);
    return [
      ...(node === link.fromNode ? [{ beacon, chainageM: 0, isOwn: false }] : []),
      ...(node === link.toNode ? [{ beacon, chainageM: link.lengthM, isOwn: false }] : []),
    ];
  });
  return places.sort((a, b) => a.chainageM - b.chainageM);
}

/** The node at the end of a link that a chainage stands at; undefined in between. */
export function findEndNode(link: Link | undefined, chainageM: number): number | undefined {
  if (link === undefined) return undefined;
  if (chainageM <= AT_END_M) return link.fromNode;
  return chainageM >= link.lengthM - AT_END_M ? link.toNode : undefined;
}

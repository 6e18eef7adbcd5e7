import type { LineAddress } from '../alignment/line-address.ts';
import type { Link } from '../network/network.ts';
import type { Beacon } from './beacon.ts';
import { listPlaces } from './list-places.ts';

/** Distances along the link to the beacons before and after, metres; absent where the link has none there. */
export type Neighbours = { readonly beforeM?: number; readonly afterM?: number };

/** Finds how far a place on a link is from the next beacons along it, those at its ends included, `exceptId` left out. */
export function findNeighbours(
  links: readonly Link[],
  beacons: readonly Beacon[],
  at: LineAddress,
  exceptId: string,
): Neighbours {
  const link = links.find((candidate) => candidate.id === at.linkId);
  if (link === undefined) return {};
  const others = listPlaces(link, links, beacons)
    .filter(({ beacon }) => beacon.id !== exceptId)
    .map(({ chainageM }) => chainageM);
  const before = others.findLast((m) => m <= at.chainageM);
  const after = others.find((m) => m > at.chainageM);
  return {
    ...(before === undefined ? {} : { beforeM: at.chainageM - before }),
    ...(after === undefined ? {} : { afterM: after - at.chainageM }),
  };
}

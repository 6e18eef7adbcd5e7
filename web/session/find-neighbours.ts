import type { Beacon } from '../../shared/placement/beacon.ts';

/** Distances along the link to the beacons before and after, metres; absent at the link's ends. */
export type Neighbours = { readonly beforeM?: number; readonly afterM?: number };

/** Finds how far a place on a link is from the next beacons of the same link, `exceptId` left out. */
export function findNeighbours(
  beacons: readonly Beacon[],
  at: Beacon['at'],
  exceptId: string | undefined,
): Neighbours {
  const others = beacons
    .filter((beacon) => beacon.at.linkId === at.linkId && beacon.id !== exceptId)
    .map((beacon) => beacon.at.chainageM);
  const before = Math.max(...others.filter((m) => m <= at.chainageM));
  const after = Math.min(...others.filter((m) => m > at.chainageM));
  return {
    ...(Number.isFinite(before) ? { beforeM: at.chainageM - before } : {}),
    ...(Number.isFinite(after) ? { afterM: after - at.chainageM } : {}),
  };
}

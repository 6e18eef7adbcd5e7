import { buildBoreGraph } from '../assurance/bore-graph.ts';
import { listStops } from '../assurance/list-stops.ts';
import { listGaps } from '../assurance/measure-gaps.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon, BeaconId } from '../placement/beacon.ts';
import { checkDesignable } from '../placement/check-designable.ts';
import type { Rules } from '../placement/rules.ts';
import { type ExistingMatch, isThere, isWorking } from './existing.ts';

/** How far a tunnel is on its way to beacons. */
export const STATUSES = ['none', 'planned', 'partly equipped', 'equipped'] as const;
export type Status = (typeof STATUSES)[number];

/** What stands in a tunnel already: how many hang there, and what that makes of it. */
export type Equipment = { readonly existingCount: number; readonly status: Status };

/** Rounding of lengths along several links, metres. */
const SLACK_M = 1e-6;

/**
 * Tells how far a complex is equipped: `equipped` where on no drive two working beacons (or one and the open air) are farther
 * apart than redundancy × spacing, `partly equipped` where at least one works, else `planned` where beacons are designed and
 * `none` where not. A complex that is listed only stays `none`.
 */
export function findEquipment(
  network: ComplexNetwork,
  rules: Rules,
  plannedCount: number,
  existing: readonly ExistingMatch[],
): Equipment {
  const existingCount = existing.filter(({ item }) => isThere(item)).length;
  if (checkDesignable(network.complex, rules) !== undefined) return { existingCount, status: 'none' };
  const working = existing.filter(({ item }) => isWorking(item));
  if (working.length === 0) return { existingCount, status: plannedCount > 0 ? 'planned' : 'none' };
  const limitM = rules.redundancy * rules.spacingM;
  // Which gap one fills whose bore is not sure is not known.
  const sure = working.filter(({ isBoreSure }) => isBoreSure);
  const gaps = listGaps(listStops(buildBoreGraph(network, sure.map(toBeacon))));
  const isFull = gaps.every(({ lengthM }) => lengthM <= limitM + SLACK_M);
  return { existingCount, status: isFull ? 'equipped' : 'partly equipped' };
}

/** A beacon that is there already, as the measures of a design take it. */
function toBeacon({ at, side, distanceM }: ExistingMatch, i: number): Beacon {
  return {
    id: `existing-${i}` as BeaconId,
    at,
    anchor: 'position',
    role: 'manual',
    side,
    offsetM: side === 'left' ? -distanceM : distanceM,
    heightM: 0,
    locked: true,
  };
}

import type { LineAddress } from '../../shared/alignment/line-address.ts';
import type { Anchor, BeaconId, Wall } from '../../shared/placement/beacon.ts';
import type { Command } from '../../shared/scheme/scheme.ts';
import type { OpenDesign } from './design-state.ts';
import type { WithoutId } from './without-id.ts';

/**
 * The edit that puts a beacon somewhere. It names the wall that the beacon is on, or the one that is asked for: what
 * a person has put on a wall stays there, whatever the rules say later.
 */
export function toSlide(
  open: OpenDesign | undefined,
  beaconId: BeaconId,
  to: LineAddress,
  anchor: Anchor,
  wall = findWall(open, beaconId),
): WithoutId<Extract<Command, { kind: 'slideBeacon' }>> {
  return { kind: 'slideBeacon', beaconId, to, anchor, ...(wall === undefined ? {} : { wall }) };
}

/** The wall that a beacon is on: as a person has put it, which the design shows a moment later, else as designed. */
export function findWall(open: OpenDesign | undefined, beaconId: BeaconId): Wall | undefined {
  const pin = open?.scheme.pinned.find(({ id }) => id === beaconId);
  return pin?.wall ?? open?.shown?.design.beacons.find(({ id }) => id === beaconId)?.side;
}

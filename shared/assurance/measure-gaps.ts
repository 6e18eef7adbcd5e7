import type { LineAddress } from '../alignment/line-address.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Stop } from './list-stops.ts';

/** A drive without a fix: its length, and the fix or the failed beacon that it is told by. */
export type Gap = {
  readonly lengthM: number;
  readonly at: LineAddress;
  readonly beaconIds: readonly BeaconId[];
};

/** The drives from each fix to the next. `beaconIds`: those at both ends. */
export function listGaps(stops: readonly Stop[]): readonly Gap[] {
  return stops.flatMap((stop) =>
    stop.after.map(({ to, distanceM }) => ({
      lengthM: distanceM,
      at: stop.at,
      beaconIds: [...stop.beaconIds, ...to.beaconIds],
    })),
  );
}

/** The longest drive that each beacon leaves where it alone fails. */
export function listGapsOfOne(stops: readonly Stop[]): readonly Gap[] {
  // Where two stand at one place, one of them stays.
  return stops
    .filter(({ beaconIds }) => beaconIds.length === 1)
    .map((stop) => ({
      lengthM: farthest(stop.before) + farthest(stop.after),
      at: stop.at,
      beaconIds: stop.beaconIds,
    }));
}

/** The longest drive that two beacons leave that are met one after the other and both fail. */
export function listGapsOfTwo(stops: readonly Stop[]): readonly Gap[] {
  return stops
    .filter(({ beaconIds }) => beaconIds.length === 1)
    .flatMap((stop) =>
      stop.after
        .filter(({ to }) => to.beaconIds.length === 1 && to.beaconIds[0] !== stop.beaconIds[0])
        .map(({ to, distanceM }) => ({
          lengthM: farthest(stop.before) + distanceM + farthest(to.after),
          at: stop.at,
          beaconIds: [...stop.beaconIds, ...to.beaconIds],
        })),
    );
}

function farthest(steps: readonly { readonly distanceM: number }[]): number {
  return steps.reduce((most, { distanceM }) => Math.max(most, distanceM), 0);
}

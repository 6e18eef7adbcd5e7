import type { LineAddress } from '../alignment/line-address.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Stop } from './list-stops.ts';

/** A drive without a fix: its length, and the fix or the failed beacon that it is told by. */
export type Gap = {
  readonly lengthM: number;
  readonly at: LineAddress;
  readonly beaconIds: readonly BeaconId[];
};

/** Lengths that differ by less are the same, metres. */
const SAME_M = 1e-6;

/** The drives from each fix to the next, once where both directions drive it. `beaconIds`: those at both ends. */
export function listGaps(stops: readonly Stop[]): readonly Gap[] {
  const gaps = stops.flatMap((stop) =>
    stop.after.map(({ to, distanceM }) => ({
      lengthM: distanceM,
      at: stop.at,
      beaconIds: [...stop.beaconIds, ...to.beaconIds],
    })),
  );
  return listLongest(gaps);
}

/**
 * The longest drive that each beacon leaves where it alone fails. Where another one stands at its place, the drives on
 * both sides stay as they are.
 */
export function listGapsOfOne(stops: readonly Stop[]): readonly Gap[] {
  return stops.flatMap((stop) => {
    const [beforeM, afterM] = [farthest(stop.before), farthest(stop.after)];
    const lengthM = stop.beaconIds.length === 1 ? beforeM + afterM : Math.max(beforeM, afterM);
    return stop.beaconIds.map((id) => ({ lengthM, at: stop.at, beaconIds: [id] }));
  });
}

/**
 * The longest drive that two beacons leave that both fail: two that are met one after the other, or the two that stand
 * at one place.
 */
export function listGapsOfTwo(stops: readonly Stop[]): readonly Gap[] {
  const gaps = stops.flatMap((stop): Gap[] => {
    const [beforeM, afterM] = [farthest(stop.before), farthest(stop.after)];
    const { at, beaconIds } = stop;
    if (beaconIds.length === 2) return [{ lengthM: beforeM + afterM, at, beaconIds }];
    if (beaconIds.length !== 1) return [];
    return stop.after
      .filter(({ to }) => to.beaconIds.length === 1 && to.beaconIds[0] !== beaconIds[0])
      .map(({ to, distanceM }) => ({
        lengthM: beforeM + distanceM + farthest(to.after),
        at,
        beaconIds: [...beaconIds, ...to.beaconIds],
      }));
  });
  return listLongest(gaps);
}

/** Of the gaps beside the same beacons (in the same bore, where there are fewer than two) the longest. */
function listLongest(gaps: readonly Gap[]): readonly Gap[] {
  const longest = new Map<string, Gap>();
  for (const gap of gaps) {
    const key = [...gap.beaconIds].sort().join(' ') + (gap.beaconIds.length < 2 ? ` ${gap.at.linkId}` : '');
    const known = longest.get(key);
    // The two directions differ by rounding only: the first one stays.
    if (known === undefined || gap.lengthM > known.lengthM + SAME_M) longest.set(key, gap);
  }
  return [...longest.values()];
}

function farthest(steps: readonly { readonly distanceM: number }[]): number {
  return steps.reduce((most, { distanceM }) => Math.max(most, distanceM), 0);
}

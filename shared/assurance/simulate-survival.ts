import type { BeaconId } from '../placement/beacon.ts';
import type { Stop } from './list-stops.ts';

/** Enough for a standard error of at most half a per cent. */
export const TRIALS = 10_000;
const SEED = 20_260_401;

/**
 * The chance that no drive goes farther than `limitM` without a fix, by seeded trials: the share of them in which it
 * holds. The same stops give the same answer.
 */
export function simulateSurvival(
  stops: readonly Stop[],
  failureShare: number,
  limitM: number,
  trials = TRIALS,
): number {
  const { spots, spotsOf } = toSpots(stops);
  if (spots.some(({ after }) => after.some(({ distanceM }) => distanceM > limitM))) return 0;
  const failed = new Uint8Array(spotsOf.length);
  /** Whether a drive that reaches a spot without a fix, `drivenM` after the last one, goes too far from there. */
  const isTooFar = (spot: Spot, drivenM: number): boolean => {
    spot.isOnWay = true;
    const isBroken = spot.after.some(({ spot: to, distanceM }) => {
      const soFarM = drivenM + distanceM;
      return soFarM > limitM || (!to.isOnWay && hasFailed(to, failed) && isTooFar(to, soFarM));
    });
    spot.isOnWay = false;
    return isBroken;
  };
  /** Only a drive past a spot that failed is longer than before. */
  const breaks = (spot: Spot): boolean => {
    if (!hasFailed(spot, failed)) return false;
    let drivenM = -1;
    for (const { spot: from, distanceM } of spot.before) {
      if (distanceM > drivenM && !hasFailed(from, failed)) drivenM = distanceM;
    }
    return drivenM >= 0 && isTooFar(spot, drivenM);
  };
  const draw = makeDraw(spotsOf.length, failureShare);
  let held = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const gone = draw();
    for (const beacon of gone) failed[beacon] = 1;
    if (!gone.some((beacon) => (spotsOf[beacon] as Spot[]).some(breaks))) held += 1;
    for (const beacon of gone) failed[beacon] = 0;
  }
  return held / trials;
}

/** A stop, made for trials: its beacons by number, none in the open air. */
type Spot = {
  readonly beacons: readonly number[];
  readonly before: Leg[];
  readonly after: Leg[];
  /** The drive that is being followed has passed it. */
  isOnWay: boolean;
};
type Leg = { readonly spot: Spot; readonly distanceM: number };

function toSpots(stops: readonly Stop[]) {
  const numbers = new Map<BeaconId, number>();
  for (const id of stops.flatMap((stop) => stop.beaconIds)) {
    if (!numbers.has(id)) numbers.set(id, numbers.size);
  }
  const made = new Map(
    stops.map((stop): [Stop, Spot] => {
      const beacons = stop.beaconIds.map((id) => numbers.get(id) as number);
      return [stop, { beacons, before: [], after: [], isOnWay: false }];
    }),
  );
  const spotsOf: Spot[][] = Array.from({ length: numbers.size }, () => []);
  for (const [stop, spot] of made) {
    for (const number of spot.beacons) spotsOf[number]?.push(spot);
    for (const { from, distanceM } of stop.before)
      spot.before.push({ spot: made.get(from) as Spot, distanceM });
    for (const { to, distanceM } of stop.after) spot.after.push({ spot: made.get(to) as Spot, distanceM });
  }
  return { spots: [...made.values()], spotsOf };
}

/** The open air never fails. */
function hasFailed({ beacons }: Spot, failed: Uint8Array): boolean {
  for (let i = 0; i < beacons.length; i += 1) if (failed[beacons[i] as number] === 0) return false;
  return beacons.length > 0;
}

/**
 * Makes the function that draws which of so many beacons have failed, by the steps from one to the next. Without a
 * logarithm, which engines round differently.
 */
function makeDraw(count: number, failureShare: number): () => readonly number[] {
  const random = makeRandom(SEED);
  // The chance that so many in a row work: a step is longer than that.
  const work = [1];
  for (let i = 0; i < count; i += 1) work.push((work[i] as number) * (1 - failureShare));
  return () => {
    const drawn: number[] = [];
    for (let from = 0; from < count; ) {
      const chance = random();
      let step = 0;
      // Most steps are long: eight at a time first.
      while (from + step + 8 <= count && chance < (work[step + 8] as number)) step += 8;
      while (from + step < count && chance < (work[step + 1] as number)) step += 1;
      from += step + 1;
      if (from <= count) drawn.push(from - 1);
    }
    return drawn;
  };
}

/** Mulberry32: small, seeded, the same everywhere. */
function makeRandom(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

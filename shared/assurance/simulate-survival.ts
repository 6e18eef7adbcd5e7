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
  const failed = new Uint8Array(spotsOf.length);
  const isTooFar = ({ to, distanceM }: Leg, drivenM: number): boolean => {
    const soFarM = drivenM + distanceM;
    if (soFarM > limitM) return true;
    if (to.isOnWay || !hasFailed(to, failed)) return false;
    to.isOnWay = true;
    const isBroken = to.after.some((leg) => isTooFar(leg, soFarM));
    to.isOnWay = false;
    return isBroken;
  };
  const breaks = (spot: Spot) => !hasFailed(spot, failed) && spot.after.some((leg) => isTooFar(leg, 0));
  if (spots.some(breaks)) return 0;
  const draw = makeDraw(spotsOf.length, failureShare);
  let held = 0;
  for (let trial = 0; trial < trials; trial += 1) {
    const gone = draw();
    for (const beacon of gone) failed[beacon] = 1;
    // Only a drive past one that failed is longer than before.
    if (!gone.some((beacon) => spotsOf[beacon]?.some((spot) => spot.before.some(breaks)))) held += 1;
    for (const beacon of gone) failed[beacon] = 0;
  }
  return held / trials;
}

/** A stop, made for trials: its beacons by number. */
type Spot = {
  readonly beacons: readonly number[];
  readonly before: Spot[];
  readonly after: Leg[];
  /** The drive that is being followed has passed it. */
  isOnWay: boolean;
};
type Leg = { readonly to: Spot; readonly distanceM: number };

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
    for (const { from } of stop.before) spot.before.push(made.get(from) as Spot);
    for (const { to, distanceM } of stop.after) spot.after.push({ to: made.get(to) as Spot, distanceM });
  }
  return { spots: [...made.values()], spotsOf };
}

function hasFailed({ beacons }: Spot, failed: Uint8Array): boolean {
  return beacons.length > 0 && beacons.every((beacon) => failed[beacon] === 1);
}

/** Makes the function that draws which of so many beacons have failed, by the distance from one to the next. */
function makeDraw(count: number, failureShare: number): () => readonly number[] {
  const random = makeRandom(SEED);
  // At a share of 1 every step is 1.
  const scale = 1 / Math.log1p(-failureShare);
  const step = () => 1 + Math.floor(Math.log1p(-random()) * scale);
  return () => {
    const drawn: number[] = [];
    if (failureShare <= 0) return drawn;
    for (let at = step() - 1; at < count; at += step()) drawn.push(at);
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

import type { Rules } from '../placement/rules.ts';
import { airTimeUs } from '../radio/air-time.ts';
import { survivesCollision } from '../radio/collision.ts';
import { missByPhase } from '../radio/miss-by-phase.ts';
import { BEACON_PROFILES, RECEIVER_PROFILES } from '../radio/profiles.ts';

/** The chance to miss one beacon for a time in range, seconds, that ends at a place of the scan's round (its fraction). */
export type Miss = (timeInRangeS: number, endRounds: number) => number;

/** Times in range that are computed, seconds, four to each doubling; what lies between is interpolated. */
const TIMES_S = Float64Array.from({ length: 37 }, (_, i) => {
  const quarters = [1, 1.189207115, Math.SQRT2, 1.681792831];
  return 0.125 * 2 ** Math.floor(i / 4) * (quarters[i % 4] as number);
});
const LONGEST_S = TIMES_S[TIMES_S.length - 1] as number;
/** Tables are kept for the next tunnel: each is the answer of a pure function. */
const known = new Map<string, Float64Array>();
const MOST_KNOWN = 4_000;

/** How long the receiver's scan takes to come back to the same phase on the same channel, seconds. */
export function scanRoundS({ receiverProfile }: Pick<Rules, 'receiverProfile'>): number {
  return (3 * RECEIVER_PROFILES[receiverProfile].scanIntervalMs) / 1000;
}

/**
 * Makes the function that gives, for so many other beacons in range, the chance to miss a beacon by the phase of the
 * scan: the radio model's tables (missByPhase), linear between times in range. Passes above 64 s count as 64 s.
 */
export function makeMisses(
  rules: Pick<Rules, 'beaconProfile' | 'receiverProfile'>,
): (otherBeacons: number) => Miss {
  const missFor = new Map<number, Miss>();
  return (otherBeacons) => {
    const miss = missFor.get(otherBeacons) ?? makeMiss(rules, otherBeacons);
    missFor.set(otherBeacons, miss);
    return miss;
  };
}

function makeMiss(rules: Pick<Rules, 'beaconProfile' | 'receiverProfile'>, otherBeacons: number): Miss {
  const tables: (Float64Array | undefined)[] = [];
  const tableAt = (index: number) => (tables[index] ??= findTable(rules, otherBeacons, index));
  return (timeInRangeS, endRounds) => {
    const timeS = Math.min(LONGEST_S, timeInRangeS);
    const phase = endRounds - Math.floor(endRounds);
    const first = TIMES_S[0] as number;
    if (timeS < first) return 1 - (timeS / first) * (1 - valueAt(tableAt(0), phase));
    const low = findBelow(timeS);
    const below = valueAt(tableAt(low), phase);
    const lowS = TIMES_S[low] as number;
    if (timeS === lowS) return below;
    const share = (timeS - lowS) / ((TIMES_S[low + 1] as number) - lowS);
    return below + share * (valueAt(tableAt(low + 1), phase) - below);
  };
}

/** The last of the times that is not above. */
function findBelow(timeS: number): number {
  let [low, high] = [0, TIMES_S.length];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((TIMES_S[middle] as number) <= timeS) low = middle;
    else high = middle;
  }
  return low;
}

function valueAt(values: Float64Array, phase: number): number {
  const at = phase * values.length;
  const low = Math.floor(at) % values.length;
  const before = values[low] as number;
  return (
    before + (at - Math.floor(at)) * ((values[low + 1 === values.length ? 0 : low + 1] as number) - before)
  );
}

function findTable(
  { beaconProfile, receiverProfile }: Pick<Rules, 'beaconProfile' | 'receiverProfile'>,
  otherBeacons: number,
  index: number,
): Float64Array {
  const name = `${beaconProfile} ${receiverProfile} ${otherBeacons} ${index}`;
  const before = known.get(name);
  if (before !== undefined) return before;
  const { intervalMs, payloadBytes } = BEACON_PROFILES[beaconProfile];
  const { scanWindowMs, scanIntervalMs } = RECEIVER_PROFILES[receiverProfile];
  const onAirUs = airTimeUs(payloadBytes);
  const table = missByPhase({
    durationMs: (TIMES_S[index] as number) * 1000,
    advertisingMs: intervalMs,
    windowMs: scanWindowMs,
    intervalMs: scanIntervalMs,
    airTimeMs: onAirUs / 1000,
    reception: survivesCollision({ otherBeacons, airTimeUs: onAirUs, intervalMs }),
  });
  if (known.size >= MOST_KNOWN) known.clear();
  known.set(name, table);
  return table;
}

import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import { airTimeUs } from './air-time.ts';
import { checkValues } from './check-values.ts';
import { survivesCollision } from './collision.ts';
import { missByPhase } from './miss-by-phase.ts';
import { BEACON_FIELDS, RECEIVER_FIELDS } from './profiles.ts';

/** What a car passes and how it listens. */
export type PassInput = {
  readonly beacon: { readonly intervalMs: number; readonly payloadBytes: number };
  readonly receiver: { readonly scanWindowMs: number; readonly scanIntervalMs: number };
  /** How long each beacon is in range, seconds. */
  readonly timeInRangeS: number;
  /** Other beacons that are heard at the same time. */
  readonly otherBeacons: number;
};

/** Beacons in a row of which one is enough. */
export type Row = {
  /** 1 unless given. */
  readonly beacons?: number;
  /** From one beacon of the row to the next, seconds. */
  readonly apartS?: number;
  /** Chance that a beacon has failed, each on its own; 0 unless given. */
  readonly failureShare?: number;
};

const FIELDS = {
  intervalMs: BEACON_FIELDS.intervalMs,
  payloadBytes: BEACON_FIELDS.payloadBytes,
  scanWindowMs: RECEIVER_FIELDS.scanWindowMs,
  scanIntervalMs: RECEIVER_FIELDS.scanIntervalMs,
  timeInRangeS: { unit: 's', min: 0, max: 600 },
  otherBeacons: { unit: '', min: 0, max: 10_000 },
};

const ROW_FIELDS = {
  beacons: { unit: '', min: 1, max: 100 },
  apartS: { unit: 's', min: 0, max: 600 },
  failureShare: { unit: '', min: 0, max: 1 },
};

/**
 * Chance, 0 to 1, to receive at least one event of a beacon, or of one beacon of a row, while it is passed: the
 * integral over the phases of scan and advertising, since what one window misses the next event may miss too (so not
 * 1 − (1 − p)^n). Beacons of a row meet the same scan, later in its phase. Refuses values out of range and a window
 * that is longer than its interval (`rule-invalid`).
 */
export function detectPass({
  beacons = 1,
  apartS = 0,
  failureShare = 0,
  ...input
}: PassInput & Row): Result<number> {
  const bad = checkValues(ROW_FIELDS, { beacons, apartS, failureShare });
  if (bad !== undefined) return refused(bad);
  const detectRow = prepareRow(input);
  return detectRow.ok ? done(detectRow.value({ beacons, apartS, failureShare })) : detectRow;
}

/**
 * Makes the function that answers detectPass for many rows of the same pass; rows have to be in range. Refuses what
 * detectPass refuses of a pass.
 */
export function prepareRow(input: PassInput): Result<(row: Required<Row>) => number> {
  const { beacon, receiver, timeInRangeS, otherBeacons } = input;
  const bad = checkValues(FIELDS, { ...beacon, ...receiver, timeInRangeS, otherBeacons });
  if (bad !== undefined) return refused(bad);
  const { scanWindowMs, scanIntervalMs } = receiver;
  if (scanWindowMs > scanIntervalMs) {
    const context = { rule: 'scanWindowMs', min: FIELDS.scanWindowMs.min, max: scanIntervalMs };
    return refused(refusal('rule-invalid', { ...context, unit: 'ms', value: scanWindowMs }));
  }
  if (timeInRangeS === 0) return done(() => 0);
  const onAirUs = airTimeUs(beacon.payloadBytes);
  const missed = missByPhase({
    durationMs: timeInRangeS * 1000,
    advertisingMs: beacon.intervalMs,
    windowMs: scanWindowMs,
    intervalMs: scanIntervalMs,
    airTimeMs: onAirUs / 1000,
    reception: survivesCollision({ otherBeacons, airTimeUs: onAirUs, intervalMs: beacon.intervalMs }),
  });
  const phasesPerS = (1000 / (3 * scanIntervalMs)) * missed.length;
  return done(({ beacons, apartS, failureShare }) => {
    const silent = missed.map((share) => failureShare + (1 - failureShare) * share);
    return 1 - meanOfProducts(silent, Math.round(beacons), apartS * phasesPerS);
  });
}

/**
 * Mean over the phases of the chance that all beacons of a row are missed, each `shift` phases after the one before.
 * Beacons fail independently of each other and of the scan, so that a failure may be counted into each factor.
 */
function meanOfProducts(missed: Float64Array, beacons: number, shift: number): number {
  let sum = 0;
  for (let phase = 0; phase < missed.length; phase++) {
    let all = 1;
    for (let beacon = 0; beacon < beacons; beacon++) all *= valueAt(missed, phase + beacon * shift);
    sum += all;
  }
  return Math.min(1, sum / missed.length);
}

function valueAt(values: Float64Array, at: number): number {
  const low = Math.floor(at);
  const before = values[low % values.length] as number;
  return before + (at - low) * ((values[(low + 1) % values.length] as number) - before);
}

/** A drive at one speed since a fix. */
export type SteadyDrive = {
  /** Metres driven since the place that the fix is of. */
  readonly drivenM: number;
  readonly assumedMps: number;
  readonly trueMps: number;
  /** Error of the fix itself, metres, positive where it is ahead of the car; 0 unless given. */
  readonly fixErrorM?: number;
  /** From the fix to the moment when the position shows it; 0 unless given. */
  readonly latencyS?: number;
};

/**
 * Error of the position after a fix at constant speeds, metres, positive where the estimate runs ahead:
 * s · (v_assumed / v_true − 1), and what the fix brings. A fix that is shown late lags by v_true · latency at that moment
 * and goes on from there, which comes to v_assumed · latency. Holds from that moment on (s ≥ v_true · latency).
 */
export function steadyErrorM({
  drivenM,
  assumedMps,
  trueMps,
  fixErrorM = 0,
  latencyS = 0,
}: SteadyDrive): number {
  return fixErrorM + drivenM * (assumedMps / trueMps - 1) - assumedMps * latencyS;
}

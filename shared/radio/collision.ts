/** What the beacons around do to one PDU. */
export type Contention = {
  /** Other beacons that are heard at the same time. */
  readonly otherBeacons: number;
  readonly airTimeUs: number;
  readonly intervalMs: number;
};

/**
 * Chance, 0 to 1, that a PDU meets none of another beacon: e^(−2Nτ/Ta), events at random phases. It counts every
 * overlap as a loss, also where the nearer beacon would be received all the same.
 */
export function survivesCollision({ otherBeacons, airTimeUs, intervalMs }: Contention): number {
  return Math.exp((-2 * otherBeacons * airTimeUs) / (intervalMs * 1000));
}

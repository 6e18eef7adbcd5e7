/**
 * Seconds during which a car is in range of a beacon: 2·√(R² − h²)/v for the slant range R and the distance h from
 * the beacon to the line that is driven, both in metres. 0 where the line is out of range; Infinity at standstill.
 */
export function timeInRangeS(rangeM: number, offsetM: number, speedMps: number): number {
  return (2 * alongBoreM(rangeM, offsetM)) / speedMps;
}

/** How far along the bore a slant range of `rangeM` reaches from `offsetM` beside it, metres; 0 where it does not. */
export function alongBoreM(rangeM: number, offsetM: number): number {
  return Math.sqrt(Math.max(0, rangeM ** 2 - offsetM ** 2));
}

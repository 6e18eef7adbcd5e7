/**
 * Decision sight distance in metres at a speed in m/s: 0.278 · V · t with V in km/h and the time that a driver needs to
 * see, decide and change path. Source: AASHTO, A Policy on Geometric Design of Highways and Streets.
 */
export function sightDistanceM(speedMps: number, timeS: number): number {
  return 0.278 * speedMps * 3.6 * timeS;
}

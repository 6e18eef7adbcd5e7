/**
 * Seconds that a driver in a city needs to see, decide and change path: avoidance manoeuvre E, 14.0 to 14.5 s, the
 * longer one. Source: AASHTO, A Policy on Geometric Design of Highways and Streets, decision sight distance.
 */
const MANOEUVRE_S = 14.5;

/** Decision sight distance in metres at a speed in m/s: 0.278 · V · t with V in km/h (same source). */
export function decisionSightM(speedMps: number): number {
  return 0.278 * speedMps * 3.6 * MANOEUVRE_S;
}

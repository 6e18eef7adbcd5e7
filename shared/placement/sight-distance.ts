import type { Decision } from '../network/network.ts';
import type { Rules } from './rules.ts';

/** Less than this is nothing, metres. */
const SLACK_M = 1e-6;

/**
 * Decision sight distance in metres at a speed in m/s: 0.278 · V · t with V in km/h and the time that a driver needs to
 * see, decide and change path. Source: AASHTO, A Policy on Geometric Design of Highways and Streets.
 */
export function sightDistanceM(speedMps: number, timeS: number): number {
  return 0.278 * speedMps * 3.6 * timeS;
}

/** The last metres of a bore before an exit portal that a decision in the open air is announced in. */
export type SightInside = { readonly portalNode: number; readonly insideM: number };

/** What is left inside, before each exit portal, of the decision sight distance of a decision in the open air. */
export function listSightInside(decision: Decision, rules: Rules): readonly SightInside[] {
  const { portalNode, distanceFromPortalM: distanceM, alsoFrom = [], speedMps } = decision;
  if (portalNode === undefined || distanceM === undefined) return [];
  const sightM = sightDistanceM(speedMps, rules.decisionTimeS);
  return [{ portalNode, distanceM }, ...alsoFrom]
    .map((from) => ({ portalNode: from.portalNode, insideM: sightM - from.distanceM }))
    .filter(({ insideM }) => insideM > SLACK_M);
}

import type { Survival } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import type { BoreGraph } from './bore-graph.ts';
import { listStops, type Stop } from './list-stops.ts';
import { simulateSurvival, TRIALS } from './simulate-survival.ts';
import { findSurvivalByCases } from './survive-rings.ts';

/** Rounding that must not break a limit, metres. */
const SLACK_M = 1e-6;

/**
 * The chance that no gap is above redundancy × spacing where each beacon has failed with the rules' failed share,
 * independently of the others. Satellites give a fix at the portals, whatever fails. Exact; where bores form many rings,
 * or a ring with hardly a beacon, simulated.
 */
export function findSurvival(
  graph: BoreGraph,
  rules: Rules,
  stops: readonly Stop[] = listStops(graph),
): Survival {
  const { failureShare } = rules;
  const limitM = rules.redundancy * rules.spacingM;
  const exact = findSurvivalByCases(graph, failureShare, limitM + SLACK_M);
  if (exact !== undefined) return { share: exact, failureShare, limitM, method: 'exact' };
  const share = simulateSurvival(stops, failureShare, limitM + SLACK_M);
  return { share, failureShare, limitM, method: 'simulated', trials: TRIALS };
}

import { findFailures } from '../drive/build-drive.ts';
import type { DecisionDrive } from '../drive/drive.ts';
import type { ComplexId, ComplexNetwork } from '../network/network.ts';
import type { Result } from '../outcome/result.ts';
import { done } from '../outcome/result.ts';
import type { Design } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import { type CostEstimate, type Costs, countByBore, DEFAULT_COSTS, estimateCost } from '../ranking/cost.ts';
import { type RankInput, rankTunnels, type TunnelInput } from '../ranking/rank.ts';
import { countEntering, listApproaches } from '../ranking/rank-traffic.ts';
import type { Traffic } from '../ranking/traffic.ts';
import type { Designed } from './to-survey-layers.ts';

/** One complex with its design and what drivers go through at its decision points. */
export type Driven = {
  readonly network: ComplexNetwork;
  readonly design: Design;
  readonly failures: readonly DecisionDrive[];
};

/** What a survey is ranked by, and what each tunnel would cost. */
export type RankQuestion = {
  readonly input: RankInput;
  readonly costs: ReadonlyMap<ComplexId, CostEstimate>;
};

/**
 * Makes the question which tunnel first: every public tunnel of a survey with its traffic, its decision points and what
 * its design costs. Covered roads, galleries and tunnels with restricted access are left out. Refuses costs as `checkCosts`.
 */
export function askRanking(
  driven: readonly Driven[],
  traffic: Traffic,
  { satnavShare }: Pick<Rules, 'satnavShare'>,
  costs: Costs = DEFAULT_COSTS,
): Result<RankQuestion> {
  const estimates = new Map<ComplexId, CostEstimate>();
  const tunnels: TunnelInput[] = [];
  for (const { network, design, failures } of driven) {
    const { complex, links } = network;
    if (!isRanked(network)) continue;
    const estimate = estimateCost(countByBore(links, design.beacons), costs);
    if (!estimate.ok) return estimate;
    estimates.set(complex.id, estimate.value);
    const approaches = listApproaches(links, traffic);
    tunnels.push({
      complexId: complex.id,
      decisions: failures,
      traffic: approaches,
      entering: countEntering(network, approaches),
      outageS: complex.outageS,
      cost: estimate.value.cost,
    });
  }
  return done({ input: { tunnels, satnavShare, factors: [], filters: [] }, costs: estimates });
}

/** What is designed, with the failures at its decision points and its place in the order; throws on costs that may not be. */
export function withRanking(
  designed: readonly (Designed & { readonly failures: readonly DecisionDrive[] })[],
  traffic: Traffic,
  rules: Pick<Rules, 'satnavShare'>,
): readonly Designed[] {
  const question = askRanking(designed, traffic, rules);
  if (!question.ok) throw new Error(question.refusal.code);
  const { ranked } = rankTunnels(question.value.input);
  const byId = new Map(ranked.map((one) => [one.complexId, one]));
  return designed.map((one) => {
    const own = byId.get(one.network.complex.id);
    return own === undefined ? one : { ...one, ranked: own };
  });
}

/** The failures at the decision points of one complex; none where it takes no part in the ranking. */
export function driveComplex(network: ComplexNetwork, design: Design): readonly DecisionDrive[] {
  return isRanked(network) ? findFailures(network, design) : [];
}

/** Whether a complex takes part in the ranking. */
export function isRanked({ complex }: ComplexNetwork): boolean {
  return complex.kind === 'tunnel' && !complex.restricted;
}

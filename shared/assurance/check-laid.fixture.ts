import type { ComplexNetwork } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import type { Check, CheckRule } from '../placement/design.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import { DEFAULT_RULES, type Rules } from '../placement/rules.ts';
import { buildBoreGraph } from './bore-graph.ts';
import { checkDesign } from './check-design.ts';
import { layPlain } from './lay-plain.fixture.ts';
import { listStops } from './list-stops.ts';
import { hear } from './network.fixture.ts';

/** The checks of the plainest layout, under the default rules and `own`. */
export function check(network: ComplexNetwork, own: Partial<Rules> = {}) {
  const rules = { ...DEFAULT_RULES, ...own };
  return checkLaid(network, rules, layPlain(network, rules));
}

/** The checks of beacons wherever they stand. */
export function checkLaid(
  network: ComplexNetwork,
  rules: Rules,
  beacons: readonly Beacon[],
  keepOuts: readonly KeepOut[] = [],
) {
  const coverage = hear(network, beacons, rules.coverageRadiusM);
  const graph = buildBoreGraph(network, beacons);
  return checkDesign({ network, rules, beacons, coverage, keepOuts, graph, stops: listStops(graph) });
}

/** The check of one rule. */
export function of(checks: readonly Check[], rule: CheckRule): Check {
  return checks.find((one) => one.rule === rule) as Check;
}

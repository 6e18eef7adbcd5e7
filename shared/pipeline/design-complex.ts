import { buildBoreGraph } from '../assurance/bore-graph.ts';
import { checkDesign } from '../assurance/check-design.ts';
import { listStops } from '../assurance/list-stops.ts';
import { findSurvival } from '../assurance/survival.ts';
import type { ComplexNetwork } from '../network/network.ts';
import { type Finding, finding, type Staged } from '../outcome/finding.ts';
import type { Beacon } from '../placement/beacon.ts';
import { checkDesignable } from '../placement/check-designable.ts';
import type { Design } from '../placement/design.ts';
import { type Fewest, layFewest } from '../placement/fewest/lay-fewest.ts';
import { layEven } from '../placement/lay-even.ts';
import { listHeard } from '../placement/list-heard.ts';
import type { Rules } from '../placement/rules.ts';
import type { Scheme } from '../scheme/scheme.ts';
import { rulesOf } from './rules-of.ts';
import { toLayoutInput } from './to-layout-input.ts';

/** Lays the beacons of one complex and their coverage, and checks them. A complex that is only listed gets none, and a finding says why. */
export function designComplex(network: ComplexNetwork, surveyRules: Rules, scheme: Scheme): Staged<Design> {
  const rules = rulesOf(surveyRules, scheme);
  const { complex } = network;
  const reason = checkDesignable(complex, rules);
  const findings: Finding[] = [];
  if (reason !== undefined) {
    const params = { reason, outageS: Math.round(complex.outageS * 10) / 10 };
    findings.push(
      finding('complex-not-designed', { kind: 'complex', id: complex.id }, params, complex.portals[0]?.at),
    );
  }
  const { beacons, fewest } = layBeacons(network, surveyRules, scheme);
  const coverage = listHeard(network.links, rules, beacons);
  const laid = {
    complexId: complex.id,
    rules,
    beacons,
    coverage,
    ...(fewest === undefined ? {} : { fewest }),
  };
  if (reason !== undefined) return { value: { ...laid, checks: [] }, findings };
  const graph = buildBoreGraph(network, beacons);
  const stops = listStops(graph);
  const checks = checkDesign({ network, rules, beacons, coverage, keepOuts: scheme.keepOuts, graph, stops });
  return { value: { ...laid, checks, survival: findSurvival(graph, rules, stops) }, findings };
}

/** The beacons of a design alone: what an edit is checked against, at every step of a drag. */
export function listBeacons(network: ComplexNetwork, surveyRules: Rules, scheme: Scheme): readonly Beacon[] {
  return layBeacons(network, surveyRules, scheme).beacons;
}

function layBeacons(
  network: ComplexNetwork,
  surveyRules: Rules,
  scheme: Scheme,
): { readonly beacons: readonly Beacon[]; readonly fewest?: Fewest } {
  const input = toLayoutInput(network, surveyRules, scheme);
  if (checkDesignable(network.complex, input.rules) !== undefined) return { beacons: [] };
  if (input.rules.method === 'even') return { beacons: layEven(input) };
  const { beacons, ...fewest } = layFewest(input, scheme.solution);
  return { beacons, fewest };
}

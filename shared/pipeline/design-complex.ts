import type { ComplexNetwork } from '../network/network.ts';
import { type Finding, finding, type Staged } from '../outcome/finding.ts';
import { checkDesignable } from '../placement/check-designable.ts';
import type { Design } from '../placement/design.ts';
import { layEven } from '../placement/lay-even.ts';
import type { Rules } from '../placement/rules.ts';
import { makeCoverage } from '../radio/cover-bores.ts';
import type { Scheme } from '../scheme/scheme.ts';

/** Lays the beacons of one complex and their coverage. A complex that is only listed gets none, and a finding says why. */
export function designComplex(network: ComplexNetwork, surveyRules: Rules, scheme: Scheme): Staged<Design> {
  const rules: Rules = { ...surveyRules, ...scheme.rules };
  const { complex } = network;
  const reason = checkDesignable(complex, rules);
  if (reason !== undefined) {
    const params = { reason, outageS: Math.round(complex.outageS * 10) / 10 };
    const findings: Finding[] = [
      finding('complex-not-designed', { kind: 'complex', id: complex.id }, params, complex.portals[0]?.at),
    ];
    return { value: { complexId: complex.id, rules, beacons: [], coverage: [] }, findings };
  }
  const beacons = layEven(network, rules, scheme.pinned);
  const cover = makeCoverage(network.links);
  const coverage = beacons.map((beacon) => ({
    beaconId: beacon.id,
    stretches: cover(beacon.at, rules.coverageRadiusM),
  }));
  return { value: { complexId: complex.id, rules, beacons, coverage }, findings: [] };
}

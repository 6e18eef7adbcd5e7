import type { Feature, MultiPolygon, Point } from 'geojson';
import { toBeaconFeatures } from '../../shared/export/to-beacon-features.ts';
import { toCoverageFeatures } from '../../shared/export/to-coverage-features.ts';
import type { ComplexNetwork } from '../../shared/network/network.ts';
import type { Finding } from '../../shared/outcome/finding.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import type { Design } from '../../shared/placement/design.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import type { Scheme } from '../../shared/scheme/scheme.ts';

/** One design with what the map draws of it. */
export type ShownDesign = {
  readonly design: Design;
  readonly beacons: readonly Feature<Point>[];
  readonly coverage: readonly Feature<MultiPolygon>[];
  readonly findings: readonly Finding[];
};

/** Designs one complex and derives its features: the same core that the server runs on save. */
export function buildShownDesign(network: ComplexNetwork, surveyRules: Rules, scheme: Scheme): ShownDesign {
  const { value: design, findings } = designComplex(network, surveyRules, scheme);
  return {
    design,
    findings,
    beacons: toBeaconFeatures(network, design),
    coverage: toCoverageFeatures(network, design),
  };
}

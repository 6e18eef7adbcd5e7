import type { Feature } from 'geojson';
import { type Collection, makeCollection, roundTo } from '../export/make-collection.ts';
import type { Origin } from '../export/origin.ts';
import { toBeaconFeatures } from '../export/to-beacon-features.ts';
import { toCoverageFeatures } from '../export/to-coverage-features.ts';
import {
  type Known,
  listDecisions,
  toBoreFeatureFeatures,
  toBoreFeatures,
  toComplexFeature,
  toDecisionFeatures,
  toPortalFeatures,
} from '../export/to-network-features.ts';
import { toFindingFeatures } from '../export/to-report.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Finding } from '../outcome/finding.ts';
import type { Design } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import type { LayerName } from '../wire/layers.ts';
import type { Counts } from '../wire/survey.ts';

/** One complex with what was designed for it, and what else is known of it. */
export type Designed = Known & { readonly network: ComplexNetwork; readonly design: Design };

/** Everything but the map's background, which comes straight from the extract. */
export type DesignedLayer = Exclude<LayerName, 'context'>;

/** What a collection says of itself. */
export type LayerMembers = { readonly rules: Rules; readonly origin: Origin };

/** One layer of a survey as GeoJSON. */
export function toSurveyLayer(
  layer: DesignedLayer,
  designed: readonly Designed[],
  findings: readonly Finding[],
  { rules, origin }: LayerMembers,
): Collection {
  return makeCollection(toLayerFeatures(layer, designed, findings), origin, { rules });
}

/** The features of one layer, tunnel after tunnel. */
export function toLayerFeatures(
  layer: DesignedLayer,
  designed: readonly Designed[],
  findings: readonly Finding[],
): readonly Feature[] {
  switch (layer) {
    case 'complexes':
      return designed.map(({ network, design, ...known }) => toComplexFeature(network, design, known));
    case 'bores':
      return designed.flatMap(({ network }) => toBoreFeatures(network));
    case 'portals':
      return designed.flatMap(({ network }) => toPortalFeatures(network));
    case 'decisions':
      return designed.flatMap(({ network, design, failures }) =>
        toDecisionFeatures(network, design.rules, failures),
      );
    case 'features':
      return designed.flatMap(({ network }) => toBoreFeatureFeatures(network));
    case 'beacons':
      return designed.flatMap(({ network, design }) => toBeaconFeatures(network, design));
    case 'coverage':
      return designed.flatMap(({ network, design }) => toCoverageFeatures(network, design));
    case 'findings':
      return toFindingFeatures(findings);
  }
}

/** The figures of `summary.json`. */
export function toCounts(
  base: { readonly ways: number; readonly tunnelWays: number },
  designed: readonly Designed[],
  findings: readonly Finding[],
): Counts {
  const sum = (count: (item: Designed) => number) => designed.reduce((total, item) => total + count(item), 0);
  return {
    ways: base.ways,
    tunnelWays: base.tunnelWays,
    complexes: designed.length,
    bores: sum(({ network }) => network.complex.boreCount),
    links: sum(({ network }) => network.links.length),
    portals: sum(({ network }) => network.complex.portals.length),
    diverges: sum(({ network }) => network.complex.diverges.filter((diverge) => diverge.inside).length),
    merges: sum(({ network }) => network.complex.merges.filter((merge) => merge.inside).length),
    decisions: sum(({ network }) => listDecisions(network.complex).length),
    beacons: sum(({ design }) => design.beacons.length),
    totalLengthM: roundTo(
      sum(({ network }) => network.complex.lengthM),
      3,
    ),
    warnings: findings.filter((finding) => finding.severity !== 'info').length,
  };
}

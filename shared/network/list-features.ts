import { boundsOf } from '../geodesy/bounds-of.ts';
import { makeBoxIndex } from '../geodesy/make-box-index.ts';
import type { FeatureCandidate } from './find-feature-candidates.ts';
import type { LinkRulers } from './link-rulers.ts';
import type { BoreFeature, Link } from './network.ts';

/** Farther from the drawn line than this a feature belongs to something else: half of three lanes, a lay-by and a niche. */
const REACH_M = 15;

/**
 * Finds which candidates stand on or near the links, each with the link that is nearest and its chainage there,
 * sorted by link, chainage and id. Left out is what belongs to a street in the open air, or says that it lies on
 * another layer. `on` is what the data themselves put into the bore, `near` what only lies beside its line in the plan.
 */
export function listFeatures(
  candidates: readonly FeatureCandidate[],
  links: readonly Link[],
  rulers: LinkRulers,
): readonly BoreFeature[] {
  if (links.length === 0 || candidates.length === 0) return [];
  const findNearest = makeFinder(links, rulers);
  const onLinks = new Set(links.flatMap((link) => link.nodes));
  const features = candidates.flatMap((candidate): readonly BoreFeature[] => {
    const isNode = candidate.nodes.some((node) => onLinks.has(node));
    // A junction is a node of its road: one of a road above or beside the bore is none of the bore's.
    if (!isNode && (candidate.kind === 'junction' || candidate.isOnStreet)) return [];
    const nearest = findNearest(candidate);
    if (nearest === undefined) return [];
    const { link, chainageM, offsetM } = nearest;
    const { kind, osm, at, label } = candidate;
    const isOn = isNode || candidate.isUnderground || candidate.layer === layerAt(link, chainageM);
    const place = { linkId: link.id, chainageM, offsetM, where: isOn ? 'on' : 'near' } as const;
    return [{ kind, osm, at, ...place, ...(label === undefined ? {} : { label }) }];
  });
  return features.sort(
    (a, b) =>
      (a.linkId < b.linkId ? -1 : a.linkId > b.linkId ? 1 : 0) ||
      a.chainageM - b.chainageM ||
      a.osm.id - b.osm.id,
  );
}

function layerAt({ stretches, layer }: Link, chainageM: number): number {
  return stretches.find(({ toM }) => chainageM <= toM)?.layer ?? layer;
}

/**
 * Whether a feature that names its layer can stand in a bore of this one: in the ground or not, and above it on the
 * same layer. Underground layers are only counted where ways cross, so that -1 and -2 may well be one.
 */
function canStandIn(featureLayer: number | undefined, layer: number): boolean {
  if (featureLayer === undefined) return true;
  return featureLayer < 0 ? layer < 0 : featureLayer === layer;
}

type Nearest = { readonly link: Link; readonly chainageM: number; readonly offsetM: number };

function makeFinder(
  links: readonly Link[],
  rulers: LinkRulers,
): (candidate: FeatureCandidate) => Nearest | undefined {
  const findNear = makeBoxIndex(links.map(({ line }) => boundsOf([line])));
  return ({ at, layer }) => {
    const [lon, lat] = at;
    const found: (Nearest & { readonly distanceM: number; readonly isSameLayer: boolean })[] = [];
    for (const i of findNear([lon, lat, lon, lat], REACH_M)) {
      const link = links[i] as Link;
      const located = rulers(link).ruler.locate(at);
      const linkLayer = layerAt(link, located.chainageM);
      if (located.distanceM > REACH_M || !canStandIn(layer, linkLayer)) continue;
      found.push({ link, ...located, isSameLayer: layer === linkLayer });
    }
    // Of two bores one above the other that of the feature's own layer, else the nearest; a tie to the first.
    found.sort((a, b) => Number(b.isSameLayer) - Number(a.isSameLayer) || a.distanceM - b.distanceM);
    return found[0];
  };
}

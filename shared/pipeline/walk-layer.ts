import type { Feature } from 'geojson';
import { listDecisions } from '../export/to-network-features.ts';
import type { ExportedLayer } from '../wire/layers.ts';
import { type Designed, toLayerFeatures } from './to-survey-layers.ts';

/**
 * The features of one layer in the order of its collection, tunnel by tunnel, so that a city's need never be held at
 * once. Ids begin with their tunnel's but for those of bores, which are few enough to be sorted.
 */
export function* walkLayer(layer: ExportedLayer, designed: readonly Designed[]): Generator<Feature> {
  if (layer === 'bores') {
    yield* sortById(toLayerFeatures(layer, designed, []));
    return;
  }
  const byId = [...designed].sort((a, b) => (keyOf(a) < keyOf(b) ? -1 : 1));
  for (const one of byId) yield* sortById(toLayerFeatures(layer, [one], []));
}

/** How many features that gives, without making them. */
export function countLayer(layer: ExportedLayer, designed: readonly Designed[]): number {
  return designed.reduce((sum, one) => sum + COUNTS[layer](one), 0);
}

const COUNTS: Readonly<Record<ExportedLayer, (one: Designed) => number>> = {
  complexes: () => 1,
  bores: ({ network }) => network.links.length,
  portals: ({ network }) => network.complex.portals.length,
  decisions: ({ network }) => listDecisions(network.complex).length,
  features: ({ network }) => network.complex.features.length,
  beacons: ({ design }) => design.beacons.length,
  coverage: ({ design }) => design.coverage.filter(({ stretches }) => stretches.length > 0).length,
};

/** With what follows the id of a tunnel in those of its parts. */
function keyOf({ network }: Designed): string {
  return `${network.complex.id}/`;
}

function sortById(features: readonly Feature[]): Feature[] {
  return [...features].sort((a, b) => (String(a.id) < String(b.id) ? -1 : 1));
}

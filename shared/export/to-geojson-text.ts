import type { Feature } from 'geojson';
import type { Rules } from '../placement/rules.ts';
import { makeCollection } from './make-collection.ts';
import type { Origin } from './origin.ts';

/** Features of one layer, in the order of their ids. */
export type LayerFeatures = { readonly layer: string; readonly features: Iterable<Feature> };

/**
 * The text of a collection, piece by piece. Features of several layers say which collection
 * they are of, also before their id, because a portal and a decision point may share one.
 */
export function* toGeojsonText(
  layers: readonly LayerFeatures[],
  origin: Origin,
  rules: Rules,
): Generator<string> {
  yield JSON.stringify(makeCollection([], origin, { rules })).slice(0, -']}'.length);
  let comma = '';
  for (const { layer, features } of layers) {
    for (const feature of features) {
      yield comma + JSON.stringify(layers.length === 1 ? feature : withCollection(layer, feature));
      comma = ',';
    }
  }
  yield ']}\n';
}

function withCollection(layer: string, feature: Feature): Feature {
  return {
    ...feature,
    id: `${layer}/${feature.id}`,
    properties: { collection: layer, ...feature.properties },
  };
}

import type { FeatureCollection } from 'geojson';
import type { GeoJSONSourceDiff } from 'maplibre-gl';

/** What changed from one collection to the next, by feature id; undefined where nothing did. */
export function diffFeatures(
  before: FeatureCollection,
  after: FeatureCollection,
): GeoJSONSourceDiff | undefined {
  const old = new Map(before.features.map((feature) => [feature.id, feature]));
  const kept = new Set(after.features.map((feature) => feature.id));
  const remove = before.features.flatMap(({ id }) => (id === undefined || kept.has(id) ? [] : [id]));
  // An added feature takes the place of one with the same id.
  const add = after.features.filter((feature) => {
    const was = old.get(feature.id);
    return was !== feature && JSON.stringify(was) !== JSON.stringify(feature);
  });
  return remove.length === 0 && add.length === 0 ? undefined : { remove, add };
}

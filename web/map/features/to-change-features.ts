import type { Feature, FeatureCollection, Geometry, Position } from 'geojson';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import type { RevisionComparison } from '../../../shared/wire/comparison.ts';

/** What a change is drawn as: a link's old and new line, a beacon's way from its old place to its new one. */
export type ChangePart = 'before' | 'after' | 'shift' | 'new-place' | 'gone-place';

/**
 * A newer extract's changes for the map: for each link its line before and after, for each beacon the way from its
 * old place to the new one, a point at the new place, or one at the place that it loses.
 */
export function toChangeFeatures({ links, beacons }: RevisionComparison): FeatureCollection {
  const features = [
    ...links.flatMap(({ lineBefore, lineAfter }) => [
      ...line('before', lineBefore),
      ...line('after', lineAfter),
    ]),
    ...beacons.flatMap(({ fromAt, toAt }) => {
      if (toAt === undefined) return fromAt === undefined ? [] : [point('gone-place', fromAt)];
      const way = fromAt === undefined ? [] : line('shift', [fromAt, toAt]);
      return [...way, point('new-place', toAt)];
    }),
  ];
  return { type: 'FeatureCollection', features };
}

function line(part: ChangePart, positions: readonly LonLat[] | undefined): Feature[] {
  if (positions === undefined) return [];
  return [toFeature(part, { type: 'LineString', coordinates: positions.map(toPosition) })];
}

function point(part: ChangePart, at: LonLat): Feature {
  return toFeature(part, { type: 'Point', coordinates: toPosition(at) });
}

function toPosition([lon, lat]: LonLat): Position {
  return [lon, lat];
}

function toFeature(part: ChangePart, geometry: Geometry): Feature {
  return { type: 'Feature', properties: { part }, geometry };
}

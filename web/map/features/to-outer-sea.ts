import type { Feature, FeatureCollection, Polygon, Position } from 'geojson';

/** The context, with the sea carried on beyond the edge of its polygon: there would be land on the horizon. */
export function withOuterSea(context: FeatureCollection): FeatureCollection {
  const sea = context.features.find(
    (feature): feature is Feature<Polygon> =>
      feature.properties?.['boremark:sea'] === 'yes' && feature.geometry.type === 'Polygon',
  );
  const shore = sea?.geometry.coordinates[0];
  if (sea === undefined || shore === undefined) return context;
  // A hair inside the polygon's edge, so that no seam shows.
  const [[west, east], [south, north]] = [boundsOf(shore, 0), boundsOf(shore, 1)];
  const inset = (east - west) * 1e-4;
  const hole = toRing(west + inset, south + inset, east - inset, north - inset);
  const outer: Feature<Polygon> = {
    type: 'Feature',
    properties: sea.properties,
    geometry: { type: 'Polygon', coordinates: [toRing(-180, -85, 180, 85), hole] },
  };
  return { ...context, features: [outer, ...context.features] };
}

function boundsOf(ring: readonly Position[], axis: 0 | 1): [number, number] {
  const values = ring.map((at) => at[axis] as number);
  return [Math.min(...values), Math.max(...values)];
}

function toRing(west: number, south: number, east: number, north: number): Position[] {
  return [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
    [west, south],
  ];
}

import type { Feature, FeatureCollection, Polygon } from 'geojson';
import { describe, expect, it } from 'vitest';
import { withOuterSea } from './to-outer-sea.ts';

const ring = [
  [10, 10],
  [20, 10],
  [20, 20],
  [10, 20],
  [10, 10],
];
const sea: Feature<Polygon> = {
  type: 'Feature',
  geometry: { type: 'Polygon', coordinates: [ring] },
  properties: { natural: 'water', 'boremark:sea': 'yes' },
};
const road: Feature = {
  type: 'Feature',
  geometry: { type: 'LineString', coordinates: ring },
  properties: { highway: 'primary' },
};
const collect = (...features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features });

describe('withOuterSea', () => {
  it('adds water around the sea of the extract, with a hole that lies just within it', () => {
    const { features } = withOuterSea(collect(sea, road));
    expect(features).toHaveLength(3);
    const [outer] = features as [Feature<Polygon>];
    expect(outer.properties).toEqual(sea.properties);
    const hole = outer.geometry.coordinates[1] ?? [];
    for (const [lon, lat] of hole as [number, number][]) {
      expect(Math.min(Math.abs(lon - 10), Math.abs(lon - 20))).toBeCloseTo(0.001, 9);
      expect(lon > 10 && lon < 20 && lat > 10 && lat < 20).toBe(true);
    }
  });

  it('leaves a context without sea as it is', () => {
    const context = collect(road);
    expect(withOuterSea(context)).toBe(context);
  });
});

import type { FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { toProgrammeFeatures } from './to-programme-features.ts';

const complexes: FeatureCollection = {
  type: 'FeatureCollection',
  features: ['a', 'b', 'c', 'd'].map((id, i) => ({
    type: 'Feature',
    id,
    properties: { kind: 'tunnel', lengthM: 100 * (i + 1) },
    geometry: {
      type: 'MultiLineString',
      coordinates: [
        [
          [0, i],
          [0.002, i],
        ],
      ],
    },
  })),
};

describe('toProgrammeFeatures', () => {
  const { features } = toProgrammeFeatures(complexes, {
    years: [
      { year: 1, ids: ['b'] },
      { year: 2, ids: [] },
      { year: 7, ids: ['a'] },
    ],
    leftOut: ['c'],
  });

  it('colours the bores of what is equipped by its year, and nothing else', () => {
    const bores = features.filter(({ geometry }) => geometry.type === 'MultiLineString');
    expect(bores.map(({ properties }) => properties)).toEqual([
      { year: 7, tone: 4 },
      { year: 1, tone: 0 },
    ]);
  });

  it('marks each tunnel at its middle with its year, or as left out', () => {
    const points = features.filter(({ geometry }) => geometry.type === 'Point');
    expect(points.map(({ properties }) => [properties?.complex, properties?.icon, properties?.year])).toEqual(
      [
        ['a', 'programme-7', 7],
        ['b', 'programme-1', 1],
        ['c', 'programme-out', undefined],
      ],
    );
    const at = points[1]?.geometry;
    expect(at?.type === 'Point' && at.coordinates[0]).toBeCloseTo(0.001, 6);
  });
});

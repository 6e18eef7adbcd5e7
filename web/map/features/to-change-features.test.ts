import { describe, expect, it } from 'vitest';
import { comparison } from '../../survey/comparison.fixture.ts';
import { toChangeFeatures } from './to-change-features.ts';

describe('a newer extract on the map', () => {
  const { features } = toChangeFeatures(comparison);
  const parts = features.map(({ properties, geometry }) => `${properties?.part} ${geometry.type}`);

  it('draws links before and after, and beacons from their old place to the new one', () => {
    expect(parts.slice(0, 3)).toEqual(['before LineString', 'after LineString', 'before LineString']);
    expect(parts.filter((part) => part === 'shift LineString')).toHaveLength(3);
    expect(parts.filter((part) => part === 'new-place Point')).toHaveLength(3);
    const shift = features.find(({ properties }) => properties?.part === 'shift');
    expect(shift?.geometry).toEqual({
      type: 'LineString',
      coordinates: [
        [10.004, 50],
        [10.0041, 50.0001],
      ],
    });
  });

  it('marks the place that a beacon loses', () => {
    const gone = features.filter(({ properties }) => properties?.part === 'gone-place');
    expect(gone.map(({ geometry }) => geometry)).toEqual([{ type: 'Point', coordinates: [10.2, 50] }]);
  });
});

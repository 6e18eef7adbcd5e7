import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { toComplexLabels } from './to-complex-labels.ts';

const collect = (...features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features });

function complex(id: string, properties: Record<string, unknown>): Feature {
  const coordinates = [
    [
      [0.001, 0],
      [0, 0],
    ],
    [
      [0.01, 0],
      [0, 0.0002],
    ],
  ];
  return {
    type: 'Feature',
    id,
    geometry: { type: 'MultiLineString', coordinates },
    properties: { kind: 'tunnel', restricted: false, status: 'planned', exitCount: 0, ...properties },
  };
}

describe('toComplexLabels', () => {
  it('labels the longest link: at its middle and along it from west to east', () => {
    const { features } = toComplexLabels(collect(complex('t1', { name: 'Hill Tunnel', exitCount: 3 })));
    const [at, along] = features;
    expect(at?.properties).toMatchObject({ complex: 't1', name: 'Hill Tunnel', exitCount: 3, isFlat: true });
    expect(at?.geometry).toMatchObject({
      coordinates: [expect.closeTo(0.005, 6), expect.closeTo(0.0001, 6)],
    });
    expect(along?.geometry).toEqual({
      type: 'LineString',
      coordinates: [
        [0, 0.0002],
        [0.01, 0],
      ],
    });
  });

  it('falls back to the reference, then to no text', () => {
    const nameOf = (properties: Record<string, unknown>) =>
      toComplexLabels(collect(complex('t1', properties))).features[0]?.properties?.name;
    expect(nameOf({ ref: 'A12' })).toBe('A12');
    expect(nameOf({})).toBe('');
  });
});

import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { toBores, toComplexLabels, toPortals } from './to-tunnel-data.ts';

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

function point(properties: Record<string, unknown>): Feature {
  return { type: 'Feature', geometry: { type: 'Point', coordinates: [0, 0] }, properties };
}

describe('toBores', () => {
  it.each([
    [{ status: 'planned' }, 'planned'],
    [{ status: 'partly equipped' }, 'partly'],
    [{ status: 'equipped' }, 'equipped'],
    [{ status: 'equipped', restricted: true }, 'restricted'],
    [{ status: 'none' }, 'undesigned'],
    [{ status: 'none', kind: 'gallery' }, 'gallery'],
    [{ status: 'none', kind: 'covered', restricted: true }, 'restricted'],
  ])('gives a bore of a complex with %j the look %s', (properties, look) => {
    const bore: Feature = {
      type: 'Feature',
      id: 'b',
      geometry: { type: 'LineString', coordinates: [] },
      properties: { complex: 't1', lanes: 2 },
    };
    const { features } = toBores({ bores: collect(bore), complexes: collect(complex('t1', properties)) });
    expect(features[0]?.properties).toEqual({ complex: 't1', lanes: 2, look });
  });
});

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

describe('toPortals', () => {
  it.each([
    [{ direction: 'in' }, 'portal-in'],
    [{ direction: 'both', edgeOfExtract: true }, 'portal-edge'],
    [{ direction: 'out', deadEnd: true, edgeOfExtract: false }, 'portal-dead-end'],
  ])('draws %j as %s', (properties, icon) => {
    expect(toPortals(collect(point(properties))).features[0]?.properties?.icon).toBe(icon);
  });
});

import type { Feature } from 'geojson';
import { describe, expect, it } from 'vitest';
import { makeCollection, makeFeature } from '../../shared/export/make-collection.ts';
import { OSM_ORIGIN } from '../../shared/export/origin.ts';
import { buildFeatureIndex } from './feature-index.ts';

const point = (id: string, lon: number, lat: number, properties: object = {}) =>
  makeFeature(id, { type: 'Point', coordinates: [lon, lat] }, { ...properties });

const indexOf = (features: readonly Feature[]) =>
  buildFeatureIndex(Buffer.from(JSON.stringify(makeCollection(features, OSM_ORIGIN))));

describe('the features of a layer', () => {
  const features = [
    // Texts that look as the end or the beginning of a feature does, and letters of several bytes.
    point('a', 1, 1, { name: ']},{"type":"Feature","id":"x"}]}' }),
    point('b/1', 2, 2, { name: 'Übergang 隧道 \\', list: [{ type: 'Feature' }] }),
    point('c', 3, 3),
    makeFeature(
      'd',
      {
        type: 'LineString',
        coordinates: [
          [0, 5],
          [5, 0],
        ],
      },
      {},
    ),
  ];

  it('are the layer’s, each by place and by id', async () => {
    const index = await indexOf(features);
    expect(index.count).toBe(4);
    expect(features.map((_, place) => index.get(place))).toEqual(features);
    expect(index.find('b/1')).toEqual(features[1]);
    expect(index.find('x')).toBeUndefined();
    expect(() => index.get(4)).toThrow(/none at 4/);
  });

  it('are found by where they are, not by their bounds', async () => {
    const { within } = await indexOf(features);
    expect(await within([[0, 0, 2, 2]])).toEqual([0, 1]);
    expect(await within([[0, 0, 10, 10]])).toEqual([0, 1, 2, 3]);
    expect(await within([[2.4, 2.4, 2.6, 2.6]])).toEqual([3]);
    expect(await within([[10, 10, 20, 20]])).toEqual([]);
    // In both boxes, and told once.
    expect(
      await within([
        [0, 0, 2, 9],
        [-9, 0, 2, 9],
      ]),
    ).toEqual([0, 1, 3]);
  });

  it('may be none', async () => {
    const index = await indexOf([]);
    expect(index.count).toBe(0);
    expect(await index.within([[-180, -90, 180, 90]])).toEqual([]);
  });

  it('have to be the last that the layer tells', async () => {
    const text = JSON.stringify({ features, type: 'FeatureCollection' });
    await expect(buildFeatureIndex(Buffer.from(text))).rejects.toThrow(/not the last/);
  });
});

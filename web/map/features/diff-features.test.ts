import type { Feature, FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import { diffFeatures } from './diff-features.ts';

const at = (id: string, lon: number): Feature => ({
  type: 'Feature',
  id,
  geometry: { type: 'Point', coordinates: [lon, 0] },
  properties: { id },
});
const collect = (...features: Feature[]): FeatureCollection => ({ type: 'FeatureCollection', features });

describe('diffFeatures', () => {
  it('names what went, came and moved, and nothing else', () => {
    const before = collect(at('kept', 0), at('gone', 1), at('moved', 2));
    const after = collect(at('kept', 0), at('moved', 3), at('new', 4));
    expect(diffFeatures(before, after)).toEqual({ remove: ['gone'], add: [at('moved', 3), at('new', 4)] });
  });

  it('is undefined where nothing changed, though every object is new', () => {
    expect(diffFeatures(collect(at('a', 0)), collect(at('a', 0)))).toBeUndefined();
  });
});

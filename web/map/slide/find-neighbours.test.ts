import type { FeatureCollection } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { LinkId } from '../../../shared/network/network.ts';
import { findNeighbours } from './find-neighbours.ts';

const beacons: FeatureCollection = {
  type: 'FeatureCollection',
  features: (
    [
      ['a.1', 'a', 10],
      ['a.2', 'a', 48],
      ['a.3', 'a', 90],
      ['b.1', 'b', 50],
    ] as const
  ).map(([beacon, link, chainageM]) => ({
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [0, 0] },
    properties: { beacon, link, chainageM },
  })),
};
const linkId = 'a' as LinkId;

describe('findNeighbours', () => {
  it('measures to the next ones on the same link, itself left out', () => {
    expect(findNeighbours(beacons, 'a.2', { linkId, chainageM: 55 })).toEqual({ beforeM: 45, afterM: 35 });
  });

  it('finds none beyond the ends', () => {
    expect(findNeighbours(beacons, 'a.3', { linkId, chainageM: 90 })).toEqual({
      beforeM: 42,
      afterM: undefined,
    });
    expect(findNeighbours(beacons, 'a.1', { linkId, chainageM: 0 }).beforeM).toBeUndefined();
  });
});

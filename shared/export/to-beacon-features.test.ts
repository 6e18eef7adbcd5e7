import { describe, expect, it } from 'vitest';
import { localDelta } from '../geodesy/segment.ts';
import { makeDesign, network } from './design.fixture.ts';
import { toBeaconFeatures } from './to-beacon-features.ts';

const design = makeDesign([
  { chainageM: 100, wall: 'right', radiusM: 25 },
  { chainageM: 200, wall: 'left', radiusM: 60.12345 },
]);
const features = toBeaconFeatures(network, design);

describe('the exported beacons', () => {
  it('say their own wall and how far each of them is heard, not what the rules say', () => {
    expect(features.map(({ properties }) => properties)).toMatchObject([
      { beacon: 'b1', side: 'right', coverageM: 25 },
      { beacon: 'b2', side: 'left', coverageM: 60.123 },
    ]);
  });

  it('stand on that wall: half of two lanes of 3.5 m and a shoulder of 1 m from the middle', () => {
    const norths = features.map(({ geometry }) => {
      const [lon = 0, lat = 0] = geometry.coordinates;
      return localDelta([-20, 46], [lon, lat]).north;
    });
    // The bore runs east: south is to its right. Seven decimals are 11 mm.
    expect(norths[0]).toBeCloseTo(-4.5, 1);
    expect(norths[1]).toBeCloseTo(4.5, 1);
  });

  it('are not written where the design does not say how far one is heard', () => {
    expect(() => toBeaconFeatures(network, { ...design, coverage: [] })).toThrow(/how far beacon b1/);
  });
});

import { area } from '@turf/turf';
import { describe, expect, it } from 'vitest';
import { makeDesign, network } from './design.fixture.ts';
import { toCoverageFeatures } from './to-coverage-features.ts';

describe('the exported coverage', () => {
  it.each([
    // Two lanes of 3.5 m; 100 m inside the bore both ways are free, 15 m inside only 15 m lie before the beacon.
    [100, 25, 50 * 7],
    [100, 60, 120 * 7],
    [15, 60, 75 * 7],
  ])('of a beacon at %s m that is heard for %s m has %s m²', (chainageM, radiusM, areaM2) => {
    const [feature] = toCoverageFeatures(network, makeDesign([{ chainageM, wall: 'right', radiusM }]));
    expect(feature?.properties).toMatchObject({ beacon: 't11/b1', rangeM: radiusM });
    if (feature === undefined) throw new Error('no coverage');
    // Turf reckons on a sphere: half a percent.
    expect(area(feature) / areaM2).toBeGreaterThan(0.99);
    expect(area(feature) / areaM2).toBeLessThan(1.01);
  });
});

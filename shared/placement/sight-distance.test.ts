import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/assurance.json';
import { sightDistanceM } from './sight-distance.ts';

describe('decision sight distance', () => {
  it('is 0.278 · V · t', () => {
    expect(sightDistanceM(50 / 3.6, 14.5)).toBeCloseTo(201.55, 6);
    expect(sightDistanceM(50 / 3.6, 10)).toBeCloseTo(139, 6);
  });

  // The published US table has a time for each speed, 14.0 to 14.5 s, and is rounded to 5 ft.
  it.each(oracle.decisionSightE.values)('is near the published $feet ft at $mph mph', ({ mph, feet }) => {
    const ratio = sightDistanceM(mph * 0.44704, 14.5) / (feet * 0.3048);
    expect(ratio).toBeGreaterThan(0.997);
    expect(ratio).toBeLessThan(1.035);
  });
});

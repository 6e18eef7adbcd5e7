import geographiclib from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import type { LonLat } from './lon-lat.ts';
import { interpolate, moveBy, segmentBearingDeg, segmentLengthM } from './segment.ts';

const wgs84 = geographiclib.Geodesic.WGS84;

/** A fixed little generator: the cases are the same on every machine. */
function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 1664525 + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}

describe('segmentLengthM', () => {
  it('is within 0.01 mm/km of GeographicLib for segments to 500 m at latitudes 0 to 70', () => {
    const random = seeded(1);
    let worstPerKm = 0;
    for (let i = 0; i < 20_000; i += 1) {
      const lat = random() * 140 - 70;
      const lon = random() * 360 - 180;
      const lengthM = 1 + random() * 499;
      const end = wgs84.Direct(lat, lon, random() * 360, lengthM);
      const measured = segmentLengthM([lon, lat], [end.lon2 ?? 0, end.lat2 ?? 0]);
      // Degrees carry about 1e-9 m of rounding; the figure is the formula's own error.
      worstPerKm = Math.max(worstPerKm, Math.abs(measured - lengthM) / (lengthM / 1000));
    }
    expect(worstPerKm).toBeLessThan(1e-5);
  });

  // GeographicLib's published test set and GeodSolve 2.1.2 (published values; see data/oracles/geodesy.json).
  it('agrees with the published geodesics on long lines', () => {
    expect(segmentLengthM([-139.44815, 35.60777], [-69.95921, -11.17491])).toBeCloseTo(8935244.560482, 3);
    expect(segmentLengthM([106.05087, 55.52454], [197.18234, 77.03196])).toBeCloseTo(4105086.171392, 3);
    expect(segmentLengthM([-73.8, 40.6], [2.55, 49.01666667])).toBeCloseTo(5853226.256, 2);
  });

  it('measures across the antimeridian', () => {
    const across = segmentLengthM([179.9999, 10], [-179.9999, 10]);
    expect(across).toBeCloseTo(segmentLengthM([0, 10], [0.0002, 10]), 6);
  });
});

describe('interpolate', () => {
  it('stays within 0.05 mm of the geodesic in 500 m', () => {
    const random = seeded(2);
    let worstM = 0;
    for (let i = 0; i < 5_000; i += 1) {
      const lat = random() * 140 - 70;
      const lon = random() * 300 - 150;
      const azimuth = random() * 360;
      const end = wgs84.Direct(lat, lon, azimuth, 500);
      const fraction = random();
      const truth = wgs84.Direct(lat, lon, azimuth, 500 * fraction);
      const got = interpolate([lon, lat], [end.lon2 ?? 0, end.lat2 ?? 0], fraction);
      worstM = Math.max(worstM, wgs84.Inverse(truth.lat2 ?? 0, truth.lon2 ?? 0, got[1], got[0]).s12 ?? 1);
    }
    expect(worstM).toBeLessThan(5e-5);
  });
});

describe('moveBy and segmentBearingDeg', () => {
  it('move as far and in the direction that GeographicLib measures', () => {
    const from: LonLat = [-20, 46];
    const to = moveBy(from, 3, -4);
    const truth = wgs84.Inverse(from[1], from[0], to[1], to[0]);
    expect(truth.s12).toBeCloseTo(5, 6);
    expect(segmentBearingDeg(from, to)).toBeCloseTo(((truth.azi1 ?? 0) + 360) % 360, 4);
  });
});

import { describe, expect, it } from 'vitest';
import { segmentLengthM } from '../../../shared/geodesy/segment.ts';
import { chooseBarM, fitMap } from './fit-map.ts';

describe('a map that is fitted', () => {
  it.each([[[-20.1, 45.9, -19.9, 46.1]], [[9.4, 47.0, 9.7, 47.05]], [[174, -41.4, 174.1, -41.2]]] as const)(
    '%j lies within the margin, north up, and touches it on one pair of sides',
    (bounds) => {
      const { toSpot } = fitMap(bounds, 800, 500, 20);
      const [x1, y1] = toSpot([bounds[0], bounds[3]]);
      const [x2, y2] = toSpot([bounds[2], bounds[1]]);
      expect(x1).toBeLessThan(x2);
      expect(y1).toBeLessThan(y2);
      expect(Math.min(x1, y1, 800 - x2, 500 - y2)).toBeCloseTo(20, 6);
      expect([x1 + x2, y1 + y2].map((one) => one / 2)).toEqual([expect.closeTo(400), expect.closeTo(250)]);
    },
  );

  it('has the scale of the ground in its middle', () => {
    const { toSpot, metresPerUnit } = fitMap([-20.1, 45.95, -19.9, 46.05], 800, 500, 20);
    const [a, b] = [[-20.01, 46] as const, [-19.99, 46] as const];
    const units = toSpot(b)[0] - toSpot(a)[0];
    // A sphere for an ellipsoid: within half a per cent, which no ruler on paper shows.
    expect((units * metresPerUnit) / segmentLengthM(a, b)).toBeCloseTo(1, 2);
  });

  it('says what it shows', () => {
    const { bounds, toSpot } = fitMap([-20.1, 45.9, -19.9, 46.1], 800, 500, 20);
    expect(toSpot([bounds[0], bounds[3]])).toEqual([expect.closeTo(0, 6), expect.closeTo(0, 6)]);
    expect(toSpot([bounds[2], bounds[1]])).toEqual([expect.closeTo(800, 6), expect.closeTo(500, 6)]);
  });

  it('leaves ground about a point', () => {
    const { metresPerUnit, toSpot } = fitMap([8, 47, 8, 47], 800, 500, 20);
    expect(metresPerUnit * 760).toBeCloseTo(400, 0);
    expect(toSpot([8, 47])).toEqual([400, expect.closeTo(250)]);
  });
});

describe('a scale bar', () => {
  it.each([
    [999, 500],
    [1000, 1000],
    [4999, 2000],
    [72, 50],
    [150_000, 100_000],
  ])('of at most %d m is %d m', (longest, bar) => {
    expect(chooseBarM(longest)).toBe(bar);
  });
});

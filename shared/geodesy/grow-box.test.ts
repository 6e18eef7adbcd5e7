import { describe, expect, it } from 'vitest';
import { geodesic } from './geodesic.ts';
import { growBox } from './grow-box.ts';
import type { LonLat } from './lon-lat.ts';

describe('a grown box', () => {
  it.each([0, 30, 46, 70])(
    'has at least the metres more on each side, and few more, at latitude %s',
    (lat) => {
      const [west, south, east, north] = growBox([10, lat, 11, lat + 0.5], 1000);
      const far = (a: LonLat, b: LonLat) => geodesic.inverseM(a, b);
      const sides = [
        far([west, lat + 0.5], [10, lat + 0.5]),
        far([11, lat], [east, lat]),
        far([10, south], [10, lat]),
        far([10, lat + 0.5], [10, north]),
      ];
      for (const sideM of sides) {
        expect(sideM).toBeGreaterThanOrEqual(1000);
        expect(sideM).toBeLessThan(1060);
      }
    },
  );

  it('ends with the globe', () => {
    expect(growBox([-180, -90, 180, 90], 1000)).toEqual([-180, -90, 180, 90]);
  });
});

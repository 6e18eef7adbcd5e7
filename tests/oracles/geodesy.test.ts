import { distance } from '@turf/turf';
import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/geodesy.json';
import { makeRuler } from '../../shared/alignment/make-ruler.ts';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { segmentLengthM } from '../../shared/geodesy/segment.ts';

const toLonLat = ([lat, lon]: number[]): LonLat => [lon as number, lat as number];

describe('published geodesics (source in data/oracles/geodesy.json)', () => {
  it.each(oracle.inverse)('inverse $name', ({ from, to, s, toleranceM }) => {
    expect(Math.abs(segmentLengthM(toLonLat(from), toLonLat(to)) - s)).toBeLessThan(toleranceM);
  });

  // The end points are printed to 1e-9 degrees: 0.1 mm.
  it.each(oracle.direct.cases)(
    '$s m from $lat° in direction $azimuth°',
    ({ lat, s, lat2, lon2, haversineErrorM }) => {
      const line: LonLat[] = [
        [10, lat],
        [lon2, lat2],
      ];
      expect(Math.abs(makeRuler(line).lengthM - s)).toBeLessThan(0.0003);
      // What a sphere would have said: the reason why Turf's lengths never become chainage.
      const spherical = distance([...(line[0] as LonLat)], [...(line[1] as LonLat)], { units: 'meters' });
      expect(spherical - s).toBeCloseTo(haversineErrorM, s > 1000 ? 1 : 2);
    },
  );
});

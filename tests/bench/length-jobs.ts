import { length, lineString } from '@turf/turf';
import geographiclib from 'geographiclib-geodesic';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import { segmentLengthM } from '../../shared/geodesy/segment.ts';
import type { Job } from './compare.ts';
import { wander } from './wander.ts';

const wgs84 = geographiclib.Geodesic.WGS84;

/** The lengths of 20,000 segments. */
export function lengthJobs(): readonly Job[] {
  const line = wander(20_001);
  const feature = lineString(line.map(([lon, lat]) => [lon, lat]));
  const sum = (measure: (a: LonLat, b: LonLat) => number) => {
    let total = 0;
    for (let i = 1; i < line.length; i += 1) total += measure(line[i - 1] as LonLat, line[i] as LonLat);
    return total;
  };
  return [
    { name: 'ours (ellipsoidal)', run: () => sum(segmentLengthM) },
    { name: '@turf/length (spherical)', run: () => length(feature, { units: 'meters' }) },
    {
      name: 'geographiclib-geodesic (reference)',
      run: () => sum((a, b) => wgs84.Inverse(a[1], a[0], b[1], b[0]).s12 ?? 0),
    },
  ];
}

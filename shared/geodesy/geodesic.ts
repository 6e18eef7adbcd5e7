// CommonJS: a named import passes in the test runner and crashes plain Node, so the default import it is.
import geographiclib from 'geographiclib-geodesic';
import type { LonLat } from './lon-lat.ts';

const wgs84 = geographiclib.Geodesic.WGS84;

/** The full geodesic on WGS84 (GeographicLib), for segments too long for the short formula. */
export const geodesic = {
  /** Length in metres. */
  inverseM(a: LonLat, b: LonLat): number {
    return wgs84.Inverse(a[1], a[0], b[1], b[0]).s12 ?? Number.NaN;
  },
  /** The position at `fraction` (0 to 1) of the way from `a` to `b`. */
  alongInverse(a: LonLat, b: LonLat, fraction: number): LonLat {
    const line = wgs84.InverseLine(a[1], a[0], b[1], b[0]);
    const at = line.Position(line.s13 * fraction);
    return [at.lon2 ?? Number.NaN, at.lat2 ?? Number.NaN];
  },
};

import type { XY } from '../line/xy.ts';

const ORIGIN_LAT = 46;
const ORIGIN_LON = -20;
const A = 6378137;
const F = 1 / 298.257223563;
const E2 = F * (2 - F);

/** Degrees on WGS84 of a local position, with the ellipsoid's radii of curvature at the place; 7 decimals. */
export function toLonLat(at: XY): [lon: string, lat: string] {
  const middleLat = ORIGIN_LAT + degrees(at[1] / 2 / radii(ORIGIN_LAT).meridianM);
  const lat = ORIGIN_LAT + degrees(at[1] / radii(middleLat).meridianM);
  const lon = ORIGIN_LON + degrees(at[0] / (radii(lat).primeVerticalM * Math.cos((lat * Math.PI) / 180)));
  return [lon.toFixed(7), lat.toFixed(7)];
}

function radii(latDeg: number): { meridianM: number; primeVerticalM: number } {
  const w = 1 - E2 * Math.sin((latDeg * Math.PI) / 180) ** 2;
  return { meridianM: (A * (1 - E2)) / w ** 1.5, primeVerticalM: A / Math.sqrt(w) };
}

function degrees(radians: number): number {
  return (radians * 180) / Math.PI;
}

import { geodesic } from './geodesic.ts';
import type { LonLat } from './lon-lat.ts';

/** WGS84: semi-major axis in metres and first eccentricity squared (f = 1/298.257223563). */
export const SEMI_MAJOR_M = 6378137;
const FLATTENING = 1 / 298.257223563;
export const ECCENTRICITY_2 = FLATTENING * (2 - FLATTENING);

const RAD = Math.PI / 180;

/** Above this a segment is measured by the full geodesic: the short formula's error grows with the cube of the length. */
const SHORT_M = 1000;

/**
 * Length of the WGS84 geodesic from `a` to `b` in metres. Up to 1 km it uses the radii of curvature at the
 * segment's middle latitude (within 0.01 mm/km of GeographicLib at latitudes to 70°), above that GeographicLib.
 */
export function segmentLengthM(a: LonLat, b: LonLat): number {
  const dLon = wrapLon(b[0] - a[0]);
  const dLat = b[1] - a[1];
  const cos = cosNear((a[1] + b[1]) / 2);
  const perW2 = 1 / (1 - ECCENTRICITY_2 * (1 - cos * cos));
  // √(east² + north²) with the radii N = a/w and M = a(1 − e²)/w³; many times as fast as Math.hypot of the two.
  const east = cos * dLon;
  const north = (1 - ECCENTRICITY_2) * perW2 * dLat;
  const lengthM = SEMI_MAJOR_M * RAD * Math.sqrt((east * east + north * north) * perW2);
  return lengthM <= SHORT_M ? lengthM : geodesic.inverseM(a, b);
}

/**
 * The position at `fraction` (0 to 1) of the geodesic from `a` to `b`, which is `lengthM` long. Up to 1 km by the
 * second-order term of the geodesic equation (plain interpolation of degrees is 15 mm off in 500 m), above that
 * GeographicLib.
 */
export function interpolate(a: LonLat, b: LonLat, fraction: number, lengthM = segmentLengthM(a, b)): LonLat {
  if (lengthM > SHORT_M) return geodesic.alongInverse(a, b, fraction);
  const dLon = wrapLon(b[0] - a[0]);
  const dLat = b[1] - a[1];
  const latDeg = (a[1] + b[1]) / 2;
  const cos = cosNear(latDeg);
  // The second-order term is millimetres: the root will do for the sine.
  const sin = latDeg < 0 ? -Math.sqrt(1 - cos * cos) : Math.sqrt(1 - cos * cos);
  // Geodesic equations in (lat, lon) with M and N, of which N/M = w²/(1 − e²); f(t) = linear − ½ t(1−t) f″ meets both ends.
  const e2sin2 = ECCENTRICITY_2 * sin * sin;
  const ratio = (1 - e2sin2) / (1 - ECCENTRICITY_2);
  const bend = 0.5 * fraction * (1 - fraction) * RAD * sin;
  const latCurve = -cos * (ratio * dLon * dLon + 3 * ECCENTRICITY_2 * (1 + e2sin2) * dLat * dLat);
  const lonCurve = (2 / (ratio * cos)) * dLat * dLon;
  return [wrapLon(a[0] + fraction * dLon - bend * lonCurve), a[1] + fraction * dLat - bend * latCurve];
}

/** Bearing of the segment at its middle, degrees clockwise from north, 0 to 360. */
export function segmentBearingDeg(a: LonLat, b: LonLat): number {
  const { east, north } = localDelta(a, b);
  return (Math.atan2(east, north) / RAD + 360) % 360;
}

/** Metres east and north from `a` to `b`, by the radii at the middle latitude. Meant for neighbours, not for continents. */
export function localDelta(a: LonLat, b: LonLat) {
  const dLonRad = wrapLon(b[0] - a[0]) * RAD;
  const dLatRad = (b[1] - a[1]) * RAD;
  const latRad = ((a[1] + b[1]) / 2) * RAD;
  const cos = Math.cos(latRad);
  const w2 = 1 - ECCENTRICITY_2 * (1 - cos * cos);
  const primeM = SEMI_MAJOR_M / Math.sqrt(w2);
  return {
    east: primeM * cos * dLonRad,
    north: ((primeM * (1 - ECCENTRICITY_2)) / w2) * dLatRad,
    latRad,
    cos,
    dLonRad,
    dLatRad,
  };
}

/** The position `eastM`, `northM` metres from `from`, for offsets of some tens of metres (a wall, a kerb). */
export function moveBy(from: LonLat, eastM: number, northM: number): LonLat {
  const startRad = from[1] * RAD;
  const latRad = startRad + northM / radiiAt(startRad).meridionalM / 2;
  const { meridionalM, primeM } = radiiAt(latRad);
  return [wrapLon(from[0] + eastM / (primeM * Math.cos(latRad)) / RAD), from[1] + northM / meridionalM / RAD];
}

function radiiAt(latRad: number): { meridionalM: number; primeM: number } {
  const w2 = 1 - ECCENTRICITY_2 * Math.sin(latRad) ** 2;
  const primeM = SEMI_MAJOR_M / Math.sqrt(w2);
  return { meridionalM: (primeM * (1 - ECCENTRICITY_2)) / w2, primeM };
}

/** Steps of latitude, parts of a degree, that a cosine is developed from. */
const STEPS = 16;
let stepAt = 0;
let stepCos = 1;
let stepSin = 0;

/**
 * Cosine of a latitude in degrees. A line's latitudes lie close together: the last step's cosine is kept and developed
 * to the fourth order, exact to the last digit or two; the answer depends on the latitude alone.
 */
function cosNear(latDeg: number): number {
  const step = Math.round(latDeg * STEPS);
  if (step !== stepAt) {
    stepAt = step;
    stepCos = Math.cos((step / STEPS) * RAD);
    stepSin = Math.sin((step / STEPS) * RAD);
  }
  const by = (latDeg - step / STEPS) * RAD;
  const by2 = by * by;
  return stepCos * (1 - by2 * (0.5 - by2 / 24)) - stepSin * by * (1 - by2 / 6);
}

function wrapLon(lon: number): number {
  if (lon > 180) return lon - 360;
  if (lon < -180) return lon + 360;
  return lon;
}

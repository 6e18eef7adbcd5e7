import type { LonLat } from '../geodesy/lon-lat.ts';
import { interpolate, localDelta, segmentBearingDeg, segmentLengthM } from '../geodesy/segment.ts';
import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import { gap, LONG_SEGMENT_M, lonGap, MIN_DEGREE_M, SLACK_M } from './quick-distance.ts';

/** Where a position falls on a line: chainage of the nearest point, offset positive to the right, both in metres. */
export type Located = {
  readonly chainageM: number;
  readonly offsetM: number;
  readonly distanceM: number;
};

/** A line with chainage: everything that asks "how far along" goes through it. */
export type Ruler = {
  readonly line: readonly LonLat[];
  /** Chainage of each vertex, metres; starts at 0 and never falls. */
  readonly vertexM: readonly number[];
  readonly lengthM: number;
  /** The position at a chainage; outside 0 … lengthM (or NaN) refused as `chainage-out-of-range`, never clamped. */
  pointAt(chainageM: number): Result<LonLat>;
  /** Direction of the line at a chainage, degrees from north; at a vertex the mean of both sides. Same refusal. */
  bearingAt(chainageM: number): Result<number>;
  /** The nearest place on the line. */
  locate(at: LonLat): Located;
  /** The part from one chainage to another (from ≤ to), with every vertex between. Same refusal. */
  slice(fromM: number, toM: number): Result<readonly LonLat[]>;
};

/** Rounding allowed at the ends of a line: far below what OSM's 7 decimals can say. */
const END_TOLERANCE_M = 1e-6;

const RAD = Math.PI / 180;
/** A line of fewer vertices is measured whole sooner than tested. */
const SHORT_LINE = 6;

/**
 * Measures a line once on the WGS84 ellipsoid.
 *
 * @param line two or more positions, at least two of them different.
 * @throws RangeError where the line is too short or holds a position that is not a number: a caller's bug.
 */
export function makeRuler(line: readonly LonLat[]): Ruler {
  const vertexM = measure(line);
  const lengthM = vertexM.at(-1) ?? 0;
  if (!(lengthM > 0)) throw new RangeError('a ruler needs a line with two different positions');

  // Places are mostly asked for in order: the search begins where the last one ended.
  let last = 0;
  const pointAt = (chainageM: number): Result<LonLat> => {
    if (!isOn(lengthM, chainageM)) return outOfRange(chainageM, lengthM);
    const segment = findSegment(vertexM, chainageM, last);
    last = segment;
    return done(positionOn(line, vertexM, segment, chainageM));
  };
  return {
    line,
    vertexM,
    lengthM,
    pointAt,
    bearingAt(chainageM) {
      if (!isOn(lengthM, chainageM)) return outOfRange(chainageM, lengthM);
      const segment = findSegment(vertexM, chainageM);
      return done(bearingOn(line, segment, fractionOf(vertexM, segment, chainageM)));
    },
    locate: (at) => nearest(line, vertexM, at),
    slice(fromM, toM) {
      if (fromM > toM) return outOfRange(fromM, lengthM);
      const from = pointAt(fromM);
      const to = pointAt(toM);
      if (!from.ok) return from;
      if (!to.ok) return to;
      const between = line.filter((_, i) => {
        const atM = vertexM[i] ?? 0;
        return atM > fromM + END_TOLERANCE_M && atM < toM - END_TOLERANCE_M;
      });
      return done([from.value, ...between, to.value]);
    },
  };
}

function measure(line: readonly LonLat[]): number[] {
  const vertexM = new Array<number>(line.length);
  let atM = 0;
  vertexM[0] = 0;
  for (let i = 1; i < line.length; i += 1) {
    atM += segmentLengthM(line[i - 1] as LonLat, line[i] as LonLat);
    vertexM[i] = atM;
  }
  if (!Number.isFinite(atM)) {
    const wrong = vertexM.findIndex((placeM) => !Number.isFinite(placeM));
    throw new RangeError(`position ${wrong} of the line is not a number`);
  }
  return vertexM;
}

/** Written so that NaN is not on the line. */
function isOn(lengthM: number, chainageM: number): boolean {
  return chainageM >= -END_TOLERANCE_M && chainageM <= lengthM + END_TOLERANCE_M;
}

/** How many segments on are looked at before the line is halved. */
const NEAR = 4;

/** The segment that a chainage is on, by its first vertex; the same one from wherever the search begins. */
function findSegment(vertexM: readonly number[], chainageM: number, from = 0): number {
  const lastOne = vertexM.length - 2;
  if (chainageM >= (vertexM[from] as number)) {
    const nearest = Math.min(lastOne, from + NEAR);
    for (let segment = from; segment < nearest; segment += 1) {
      if (chainageM < (vertexM[segment + 1] as number)) return segment;
    }
  }
  let low = 0;
  let high = vertexM.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((vertexM[middle] as number) <= chainageM) low = middle;
    else high = middle;
  }
  return low;
}

/** How far along its segment a chainage is, 0 to 1. */
function fractionOf(vertexM: readonly number[], segment: number, chainageM: number): number {
  const startM = vertexM[segment] ?? 0;
  const segmentM = (vertexM[segment + 1] ?? startM) - startM;
  return segmentM > 0 ? Math.min(1, Math.max(0, (chainageM - startM) / segmentM)) : 0;
}

function outOfRange(chainageM: number, lengthM: number) {
  return refused(refusal('chainage-out-of-range', { chainageM, lengthM }));
}

function positionOn(
  line: readonly LonLat[],
  vertexM: readonly number[],
  segment: number,
  chainageM: number,
): LonLat {
  const a = line[segment] as LonLat;
  const b = line[segment + 1] as LonLat;
  const startM = vertexM[segment] as number;
  const lengthM = (vertexM[segment + 1] as number) - startM;
  const alongM = chainageM - startM;
  if (alongM <= 0) return a;
  return alongM >= lengthM ? b : interpolate(a, b, alongM / lengthM, lengthM);
}

function bearingOn(line: readonly LonLat[], segment: number, fraction: number): number {
  const here = segmentBearing(line, segment) ?? 0;
  const other =
    fraction === 0
      ? segmentBearing(line, segment - 1)
      : fraction === 1
        ? segmentBearing(line, segment + 1)
        : undefined;
  if (other === undefined) return here;
  const turn = ((other - here + 540) % 360) - 180;
  return (here + turn / 2 + 360) % 360;
}

function segmentBearing(line: readonly LonLat[], segment: number): number | undefined {
  const a = line[segment];
  const b = line[segment + 1];
  if (a === undefined || b === undefined || (a[0] === b[0] && a[1] === b[1])) return undefined;
  return segmentBearingDeg(a, b);
}

function nearest(line: readonly LonLat[], vertexM: readonly number[], at: LonLat): Located {
  let best: Located = { chainageM: 0, offsetM: 0, distanceM: Number.POSITIVE_INFINITY };
  const canBeNearer = line.length < SHORT_LINE ? () => true : makeFilter(line, vertexM, at);
  for (let i = 0; i + 1 < line.length; i += 1) {
    if (!canBeNearer(i, best.distanceM)) continue;
    const a = line[i] as LonLat;
    const along = localDelta(a, line[i + 1] as LonLat);
    const to = localDelta(a, at);
    const square = along.east ** 2 + along.north ** 2;
    if (square === 0) continue;
    const raw = (to.east * along.east + to.north * along.north) / square;
    const fraction = Math.min(1, Math.max(0, raw));
    const distanceM = Math.hypot(to.east - fraction * along.east, to.north - fraction * along.north);
    if (distanceM >= best.distanceM) continue;
    const rightward = to.east * along.north - to.north * along.east;
    const startM = vertexM[i] ?? 0;
    best = {
      chainageM: startM + fraction * ((vertexM[i + 1] ?? startM) - startM),
      offsetM: rightward >= 0 ? distanceM : -distanceM,
      distanceM,
    };
  }
  return best;
}

/**
 * Makes the quick test that passes over segments which surely lie farther away than what is known: than `bestM`, and
 * than the vertex that is nearest in plain degrees. Most of a long line is never measured.
 */
function makeFilter(line: readonly LonLat[], vertexM: readonly number[], [lon, lat]: LonLat) {
  const squeeze = Math.cos(lat * RAD);
  let vertex = line[0] as LonLat;
  let least = Number.POSITIVE_INFINITY;
  let northmost = Math.abs(lat);
  for (const place of line) {
    const square = (squeeze * (place[0] - lon)) ** 2 + (place[1] - lat) ** 2;
    if (square < least) [vertex, least] = [place, square];
    northmost = Math.max(northmost, Math.abs(place[1]));
  }
  const { east, north } = localDelta(vertex, [lon, lat]);
  const vertexDistanceM = Math.hypot(east, north);
  const lonDegreeM = MIN_DEGREE_M * Math.cos(northmost * RAD);
  return (i: number, bestM: number): boolean => {
    const a = line[i] as LonLat;
    const b = line[i + 1] as LonLat;
    // Where a degree's length changes along the segment, degrees tell too little.
    if ((vertexM[i + 1] ?? 0) - (vertexM[i] ?? 0) > LONG_SEGMENT_M) return true;
    const reachM = Math.min(bestM, vertexDistanceM) + SLACK_M;
    if (gap(a[1], b[1], lat) * MIN_DEGREE_M > reachM) return false;
    return lonGap(a[0], b[0], lon) * lonDegreeM <= reachM;
  };
}

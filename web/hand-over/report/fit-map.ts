import type { BBox, LonLat } from '../../../shared/geodesy/lon-lat.ts';

/** A place in the drawing, in its own units from its upper left corner. */
export type Spot = readonly [x: number, y: number];

export type Fitted = {
  readonly toSpot: (at: LonLat | readonly number[]) => Spot;
  /** What the drawing shows. */
  readonly bounds: BBox;
  /** Metres on the ground for one unit, in the middle of the drawing. */
  readonly metresPerUnit: number;
};

const EARTH_RADIUS_M = 6_378_137;
const RAD = Math.PI / 180;
/** So near the poles Mercator has no end. */
const FARTHEST_LAT = 85;
/** One short tunnel needs some ground about it. */
const LEAST_WIDTH_M = 400;

/** Fits bounds into a drawing of `width` × `height` units with a margin, in Mercator's projection; north is up. */
export function fitMap(
  [west, south, east, north]: BBox,
  width: number,
  height: number,
  margin: number,
): Fitted {
  const [left, right] = [west * RAD, east * RAD];
  const [low, high] = [toMercator(south), toMercator(north)];
  const middle: Spot = [(left + right) / 2, (low + high) / 2];
  const lat = fromMercator(middle[1]);
  const least = LEAST_WIDTH_M / EARTH_RADIUS_M / Math.cos(lat);
  const perUnit = Math.max(
    Math.max(right - left, least) / (width - 2 * margin),
    (high - low) / (height - 2 * margin),
  );
  const toX = (x: number) => width / 2 + (x - middle[0]) / perUnit;
  const toY = (y: number) => height / 2 - (y - middle[1]) / perUnit;
  const [halfX, halfY] = [(width / 2) * perUnit, (height / 2) * perUnit];
  return {
    toSpot: ([lon = 0, atLat = 0]) => [toX(lon * RAD), toY(toMercator(atLat))],
    bounds: [
      (middle[0] - halfX) / RAD,
      fromMercator(middle[1] - halfY) / RAD,
      (middle[0] + halfX) / RAD,
      fromMercator(middle[1] + halfY) / RAD,
    ],
    metresPerUnit: perUnit * EARTH_RADIUS_M * Math.cos(lat),
  };
}

function toMercator(lat: number): number {
  const held = Math.max(-FARTHEST_LAT, Math.min(FARTHEST_LAT, lat)) * RAD;
  return Math.log(Math.tan(Math.PI / 4 + held / 2));
}

function fromMercator(y: number): number {
  return 2 * Math.atan(Math.exp(y)) - Math.PI / 2;
}

/** The longest round length (1, 2 or 5 times a power of ten) that is at most `longestM`. */
export function chooseBarM(longestM: number): number {
  const power = 10 ** Math.floor(Math.log10(longestM));
  const factor = [5, 2, 1].find((one) => one * power <= longestM) ?? 1;
  return factor * power;
}

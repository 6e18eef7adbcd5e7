import type { Position } from 'geojson';
import type { Fitted, Spot } from './fit-map.ts';

/** Closer than this, in units of the drawing, two points are one on paper. */
const FINEST = 0.3;

/** Lines as the `d` of an SVG path; what lies wholly outside the drawing is left out. Empty where nothing is left. */
export function toPath(lines: readonly (readonly Position[])[], map: Fitted, isClosed = false): string {
  return lines
    .filter((line) => meets(line, map))
    .map((line) => toLine(line, map) + (isClosed ? 'Z' : ''))
    .join('');
}

function meets(line: readonly Position[], { bounds: [west, south, east, north] }: Fitted): boolean {
  let [isWest, isEast, isSouth, isNorth] = [true, true, true, true];
  for (const [lon = 0, lat = 0] of line) {
    isWest &&= lon < west;
    isEast &&= lon > east;
    isSouth &&= lat < south;
    isNorth &&= lat > north;
  }
  return !(isWest || isEast || isSouth || isNorth);
}

function toLine(line: readonly Position[], { toSpot }: Fitted): string {
  const spots: Spot[] = [];
  line.forEach((position, i) => {
    const spot = toSpot(position);
    const last = spots.at(-1);
    const isFar = last === undefined || Math.hypot(spot[0] - last[0], spot[1] - last[1]) >= FINEST;
    if (isFar || i === line.length - 1) spots.push(spot);
  });
  return spots.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${round(x)} ${round(y)}`).join('');
}

function round(value: number): number {
  return Math.round(value * 10) / 10;
}

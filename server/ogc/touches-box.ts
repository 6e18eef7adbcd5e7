import type { Geometry, Position } from 'geojson';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';

/** Whether a geometry of points or lines has a place in a box or on its edge; lines are straight in degrees. */
export function touchesBox(geometry: Geometry, box: BBox): boolean {
  switch (geometry.type) {
    case 'Point':
      return isLineIn([geometry.coordinates, geometry.coordinates], box);
    case 'LineString':
      return isLineIn(geometry.coordinates, box);
    case 'MultiLineString':
      return geometry.coordinates.some((line) => isLineIn(line, box));
    default:
      throw new Error(`no collection has a ${geometry.type}`);
  }
}

function isLineIn(line: readonly Position[], box: BBox): boolean {
  return line.some((to, i) => i > 0 && isSegmentIn(line[i - 1] as Position, to, box));
}

/** Liang and Barsky's clipping: what is left of the segment between the four edges. */
function isSegmentIn(from: Position, to: Position, [west, south, east, north]: BBox): boolean {
  const [x = 0, y = 0] = from;
  const [dx, dy] = [(to[0] ?? 0) - x, (to[1] ?? 0) - y];
  let [enter, leave] = [0, 1];
  for (const [step, room] of [
    [-dx, x - west],
    [dx, east - x],
    [-dy, y - south],
    [dy, north - y],
  ] as const) {
    if (step === 0 && room < 0) return false;
    if (step < 0) enter = Math.max(enter, room / step);
    if (step > 0) leave = Math.min(leave, room / step);
  }
  return enter <= leave;
}

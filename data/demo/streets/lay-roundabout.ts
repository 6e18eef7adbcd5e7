import type { City, Point, Tags, Way } from '../city/city.ts';
import { toPoint } from '../city/city.ts';
import { polar, type XY } from '../line/xy.ts';

export type Roundabout = {
  readonly way: Way;
  readonly centre: XY;
  readonly radiusM: number;
  /** The node on the circle at an angle (degrees counter-clockwise from east); made when there is none. */
  readonly node: (angleDeg: number) => Point;
};

const STEP_DEG = 20;

/** Draws a roundabout for traffic that keeps right: the way runs counter-clockwise. */
export function layRoundabout(
  city: City,
  group: number,
  centre: XY,
  radiusM: number,
  tags: Tags,
  kind: { joins?: boolean; note?: string } = {},
): Roundabout {
  const angles: number[] = [];
  const points: Point[] = [];
  for (let a = 0; a < 360; a += STEP_DEG) {
    angles.push(a);
    points.push(toPoint(polar(centre, radiusM, a)));
  }
  const way = city.draw(group, [...points, points[0]!], { junction: 'roundabout', ...tags }, kind);
  const node = (angleDeg: number): Point => {
    const angle = ((angleDeg % 360) + 360) % 360;
    const near = angles.findIndex((a) => Math.abs(a - angle) < 4);
    if (near >= 0) return way.points[near]!;
    const before = angles.findIndex((a) => a > angle);
    const at = before < 0 ? angles.length : before;
    angles.splice(at, 0, angle);
    const point = toPoint(polar(centre, radiusM, angle));
    way.points.splice(at, 0, point);
    return point;
  };
  return { way, centre, radiusM, node };
}

/** A position in local metres: `[east, north]` of the city's origin. */
export type XY = readonly [east: number, north: number];

/** Distance between two positions, metres. */
export function distanceM(a: XY, b: XY): number {
  return Math.hypot(b[0] - a[0], b[1] - a[1]);
}

/** The position a share `t` of the way from `a` to `b`. */
export function between(a: XY, b: XY, t: number): XY {
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

/** The position `distM` from `from` towards `angleDeg`, measured counter-clockwise from east. */
export function polar(from: XY, distM: number, angleDeg: number): XY {
  const a = (angleDeg * Math.PI) / 180;
  return [from[0] + distM * Math.cos(a), from[1] + distM * Math.sin(a)];
}

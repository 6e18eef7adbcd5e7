import { spline } from '../line/curves.ts';
import { chainagesM, keepShape, offsetLine } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';

/** The Alder from its spring to the basin: position and half width, metres. */
const COURSE: readonly (readonly [number, number, number])[] = [
  [-4020, 2880, 6],
  [-3760, 2700, 8],
  [-3420, 2720, 10],
  [-3080, 2580, 13],
  [-2820, 2300, 16],
  [-2480, 2200, 20],
  [-2180, 1960, 24],
  [-1980, 1640, 28],
  [-1620, 1430, 33],
  [-1250, 1330, 38],
  [-900, 1080, 44],
  [-640, 760, 50],
  [-560, 380, 56],
  [-620, -20, 62],
  [-600, -420, 72],
  [-500, -780, 88],
  [-420, -1080, 130],
  [-300, -1350, 230],
  [-190, -1540, 330],
];

export type River = {
  /** Middle line, from the spring to the basin. */
  readonly middle: readonly XY[];
  /** Water area of river and inner basin; runs from the western to the eastern pierhead, not closed. */
  readonly water: readonly XY[];
};

/** Draws the river and the basin between the pierheads `lock`. */
export function drawRiver(lock: readonly [west: XY, east: XY]): River {
  const middle = spline(
    COURSE.map(([x, y]): XY => [x, y]),
    25,
  );
  const half = halfWidths(middle);
  const right = thin(offsetLine(middle, half)).slice(0, -1);
  const left = thin(offsetLine(middle, (s) => -half(s))).slice(0, -1);
  const water = [lock[0], ...right.reverse(), ...left, lock[1]];
  const keep = keepShape(middle, 3).map((i) => middle[i]!);
  return { middle: keep, water };
}

function halfWidths(middle: readonly XY[]): (s: number) => number {
  const along = COURSE.map(([x, y, half]) => ({ s: nearestChainageM(middle, [x, y]), half }));
  return (s) => {
    const i = Math.max(
      1,
      along.findIndex((k) => k.s >= s),
    );
    const [a, b] = [along[i - 1]!, along[i]!];
    const t = Math.min(1, Math.max(0, (s - a.s) / (b.s - a.s)));
    return a.half + (b.half - a.half) * t * t * (3 - 2 * t);
  };
}

function nearestChainageM(line: readonly XY[], p: XY): number {
  const at = chainagesM(line);
  let best = 0;
  line.forEach((q, i) => {
    if (Math.hypot(q[0] - p[0], q[1] - p[1]) < Math.hypot(line[best]![0] - p[0], line[best]![1] - p[1]))
      best = i;
  });
  return at[best]!;
}

function thin(line: readonly XY[]): XY[] {
  return keepShape(line, 3).map((i) => line[i]!);
}

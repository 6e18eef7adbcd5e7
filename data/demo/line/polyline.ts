import { between, distanceM, type XY } from './xy.ts';

/** Running length at each vertex, metres. */
export function chainagesM(line: readonly XY[]): number[] {
  const sums = [0];
  for (let i = 1; i < line.length; i++) sums.push(sums[i - 1]! + distanceM(line[i - 1]!, line[i]!));
  return sums;
}

/** Length of the line, metres. */
export function lengthM(line: readonly XY[]): number {
  return chainagesM(line).at(-1) ?? 0;
}

/** The position at `s`, where `at` gives each vertex's (rising) chainage; clamped to the line's ends. */
export function pointAt(line: readonly XY[], at: readonly number[], s: number): XY {
  if (s <= at[0]!) return line[0]!;
  for (let i = 1; i < line.length; i++) {
    if (s <= at[i]!) return between(line[i - 1]!, line[i]!, (s - at[i - 1]!) / (at[i]! - at[i - 1]!));
  }
  return line.at(-1)!;
}

/** Unit vector of travel at `s`. */
export function headingAt(line: readonly XY[], at: readonly number[], s: number): XY {
  const a = pointAt(line, at, Math.max(s - 4, at[0]!));
  const b = pointAt(line, at, Math.min(s + 4, at.at(-1)!));
  const d = distanceM(a, b);
  return [(b[0] - a[0]) / d, (b[1] - a[1]) / d];
}

/** The same line with vertices at equal steps of at most `stepM`. */
export function resample(line: readonly XY[], stepM: number): XY[] {
  const at = chainagesM(line);
  const total = at.at(-1)!;
  const n = Math.max(1, Math.ceil(total / stepM));
  const out: XY[] = [];
  for (let i = 0; i <= n; i++) out.push(pointAt(line, at, (total * i) / n));
  return out;
}

/** The line moved sideways by `offsetM` (positive to the right), which may depend on the chainage. */
export function offsetLine(line: readonly XY[], offsetM: number | ((s: number) => number)): XY[] {
  const at = chainagesM(line);
  return line.map((p, i) => {
    const a = line[Math.max(0, i - 1)]!;
    const b = line[Math.min(line.length - 1, i + 1)]!;
    const d = distanceM(a, b);
    const by = typeof offsetM === 'number' ? offsetM : offsetM(at[i]!);
    return [p[0] + ((b[1] - a[1]) / d) * by, p[1] - ((b[0] - a[0]) / d) * by];
  });
}

/** Drops vertices that lie within `toleranceM` of the simpler line (Douglas and Peucker). */
export function keepShape(line: readonly XY[], toleranceM: number): number[] {
  const keep = new Set([0, line.length - 1]);
  const stack: [number, number][] = [[0, line.length - 1]];
  while (stack.length > 0) {
    const [from, to] = stack.pop()!;
    let worst = toleranceM;
    let at = -1;
    for (let i = from + 1; i < to; i++) {
      const d = distanceToSegmentM(line[i]!, line[from]!, line[to]!);
      if (d > worst) {
        worst = d;
        at = i;
      }
    }
    if (at > 0) {
      keep.add(at);
      stack.push([from, at], [at, to]);
    }
  }
  return [...keep].sort((a, b) => a - b);
}

/** Distance from a position to a straight segment, metres. */
export function distanceToSegmentM(p: XY, a: XY, b: XY): number {
  return distanceM(p, between(a, b, nearestShare(p, a, b)));
}

/** Where on the segment, as a share from `a` to `b`, it is nearest to `p`. */
export function nearestShare(p: XY, a: XY, b: XY): number {
  const dx = b[0] - a[0];
  const dy = b[1] - a[1];
  const l2 = dx * dx + dy * dy;
  if (l2 === 0) return 0;
  return Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / l2));
}

/** Where two segments cross, as shares of each, or undefined. */
export function findCrossing(a: XY, b: XY, c: XY, d: XY): { t: number; u: number } | undefined {
  const rx = b[0] - a[0];
  const ry = b[1] - a[1];
  const sx = d[0] - c[0];
  const sy = d[1] - c[1];
  const den = rx * sy - ry * sx;
  if (Math.abs(den) < 1e-9) return undefined;
  const t = ((c[0] - a[0]) * sy - (c[1] - a[1]) * sx) / den;
  const u = ((c[0] - a[0]) * ry - (c[1] - a[1]) * rx) / den;
  return t >= 0 && t <= 1 && u >= 0 && u <= 1 ? { t, u } : undefined;
}

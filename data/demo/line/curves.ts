import { lengthM, resample } from './polyline.ts';
import { between, distanceM, type XY } from './xy.ts';

/** A corner of an alignment: position and the radius of the arc that rounds it, metres. */
export type Corner = readonly [east: number, north: number, radiusM?: number];

/** Straights joined by circular arcs, as roads are set out; vertices at most `stepM` apart. */
export function setOut(corners: readonly Corner[], stepM = 10): XY[] {
  const out: XY[] = [[corners[0]![0], corners[0]![1]]];
  for (let i = 1; i < corners.length - 1; i++) {
    const [x, y, radius = 200] = corners[i]!;
    out.push(...arc(xy(corners[i - 1]!), [x, y], xy(corners[i + 1]!), radius));
  }
  out.push(xy(corners.at(-1)!));
  return resample(out, stepM);
}

function xy(c: Corner): XY {
  return [c[0], c[1]];
}

function arc(before: XY, at: XY, after: XY, radiusM: number): XY[] {
  const inDeg = Math.atan2(at[1] - before[1], at[0] - before[0]);
  const outDeg = Math.atan2(after[1] - at[1], after[0] - at[0]);
  let turn = outDeg - inDeg;
  if (turn > Math.PI) turn -= 2 * Math.PI;
  if (turn < -Math.PI) turn += 2 * Math.PI;
  if (Math.abs(turn) < 1e-3) return [at];
  const half = Math.tan(Math.abs(turn) / 2);
  const tangent = Math.min(radiusM * half, 0.49 * Math.min(distanceM(before, at), distanceM(at, after)));
  const r = tangent / half;
  const start = between(at, before, tangent / distanceM(at, before));
  const side = Math.sign(turn);
  const centre: XY = [start[0] - side * r * Math.sin(inDeg), start[1] + side * r * Math.cos(inDeg)];
  const n = Math.max(2, Math.ceil((Math.abs(turn) * r) / 5));
  return Array.from({ length: n + 1 }, (_, k): XY => {
    const a = inDeg + (turn * k) / n;
    return [centre[0] + side * r * Math.sin(a), centre[1] - side * r * Math.cos(a)];
  });
}

/** A smooth line through all `points` (centripetal Catmull–Rom), vertices about `stepM` apart. */
export function spline(points: readonly XY[], stepM = 10, closed = false): XY[] {
  const n = points.length;
  const get = (i: number): XY => {
    if (closed) return points[(i + n) % n]!;
    if (i < 0) return between(points[1]!, points[0]!, 2);
    return i >= n ? between(points[n - 2]!, points[n - 1]!, 2) : points[i]!;
  };
  const out: XY[] = [];
  for (let i = 0; i < (closed ? n : n - 1); i++) {
    const steps = Math.max(2, Math.ceil(distanceM(get(i), get(i + 1)) / 5));
    for (let k = 0; k < steps; k++) out.push(catmull(get(i - 1), get(i), get(i + 1), get(i + 2), k / steps));
  }
  out.push(closed ? points[0]! : points[n - 1]!);
  return lengthM(out) > 0 ? resample(out, stepM) : out;
}

function catmull(p0: XY, p1: XY, p2: XY, p3: XY, share: number): XY {
  const t0 = 0;
  const t1 = t0 + Math.sqrt(distanceM(p0, p1));
  const t2 = t1 + Math.sqrt(distanceM(p1, p2));
  const t3 = t2 + Math.sqrt(distanceM(p2, p3));
  const t = t1 + (t2 - t1) * share;
  const mix = (a: XY, b: XY, ta: number, tb: number): XY => between(a, b, (t - ta) / (tb - ta));
  const a1 = mix(p0, p1, t0, t1);
  const a2 = mix(p1, p2, t1, t2);
  const a3 = mix(p2, p3, t2, t3);
  return mix(mix(a1, a2, t0, t2), mix(a2, a3, t1, t3), t1, t2);
}

/** A ramp that leaves `from` along `leaving` and reaches `to` along `arriving` (unit vectors). */
export function sweep(from: XY, leaving: XY, to: XY, arriving: XY, stepM = 10, pull = 0.4): XY[] {
  const d = distanceM(from, to) * pull;
  const c1: XY = [from[0] + leaving[0] * d, from[1] + leaving[1] * d];
  const c2: XY = [to[0] - arriving[0] * d, to[1] - arriving[1] * d];
  const out: XY[] = [];
  for (let k = 0; k <= 60; k++) {
    const t = k / 60;
    const a = between(between(from, c1, t), between(c1, c2, t), t);
    const b = between(between(c1, c2, t), between(c2, to, t), t);
    out.push(between(a, b, t));
  }
  return resample(out, stepM);
}

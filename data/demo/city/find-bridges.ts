import { findCrossing } from '../line/polyline.ts';
import { distanceM, type XY } from '../line/xy.ts';
import type { City, Obstacle } from './city.ts';
import type { Stretch } from './lay-road.ts';

const ABUTMENT_M = 14;

type Span = { from: number; to: number };

/** The stretches where a road must be a bridge: over water, railways, motorways, wherever it is not a tunnel. */
export function findBridges(
  obstacles: readonly Obstacle[],
  line: readonly XY[],
  at: readonly number[],
  stretches: readonly Stretch[],
): Stretch[] {
  const spans: Span[] = [];
  for (const obstacle of obstacles) {
    const crossings = crossingsOf(obstacle, line, at).filter(
      (s) => !stretches.some((t) => t.tags.tunnel === 'yes' && s > t.from && s < t.to),
    );
    spans.push(
      ...(obstacle.water ? spansOverWater(crossings) : spansOverLine(crossings, obstacle.halfWidthM)),
    );
  }
  return merged(spans).map((s) => ({ from: s.from, to: s.to, tags: { bridge: 'yes', layer: '1' } }));
}

/** Makes later roads bridge the line wherever it lies in the open. */
export function addObstacles(
  city: City,
  line: readonly XY[],
  at: readonly number[],
  halfWidthM: number,
  stretches: readonly Stretch[],
): void {
  let run: XY[] = [];
  line.forEach((p, i) => {
    const under = stretches.some((t) => t.tags.tunnel === 'yes' && at[i]! > t.from && at[i]! < t.to);
    if (!under) run.push(p);
    if ((under || i === line.length - 1) && run.length > 1) {
      city.obstacles.push({ line: run, halfWidthM, water: false });
    }
    if (under) run = [];
  });
}

function crossingsOf(obstacle: Obstacle, line: readonly XY[], at: readonly number[]): number[] {
  const found: number[] = [];
  for (let i = 1; i < line.length; i++) {
    const [a, b] = [line[i - 1]!, line[i]!];
    for (let k = 1; k < obstacle.line.length; k++) {
      const [c, d] = [obstacle.line[k - 1]!, obstacle.line[k]!];
      if (Math.min(c[0], d[0]) > Math.max(a[0], b[0]) || Math.max(c[0], d[0]) < Math.min(a[0], b[0]))
        continue;
      const hit = findCrossing(a, b, c, d);
      if (hit !== undefined && distanceM(a, b) > 0) found.push(at[i - 1]! + (at[i]! - at[i - 1]!) * hit.t);
    }
  }
  return found.sort((a, b) => a - b);
}

/** Banks come in pairs: in and out of the water. */
function spansOverWater(crossings: readonly number[]): Span[] {
  const spans: Span[] = [];
  for (let i = 1; i < crossings.length; i += 2)
    spans.push({ from: crossings[i - 1]! - ABUTMENT_M, to: crossings[i]! + ABUTMENT_M });
  return spans;
}

function spansOverLine(crossings: readonly number[], halfWidthM: number): Span[] {
  const reach = halfWidthM + ABUTMENT_M;
  return crossings.map((s) => ({ from: s - reach, to: s + reach }));
}

function merged(spans: readonly Span[]): Span[] {
  const out: Span[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = out.at(-1);
    if (last !== undefined && span.from - last.to < 30) last.to = Math.max(last.to, span.to);
    else out.push({ ...span });
  }
  return out;
}

import { between, distanceM, type XY } from '../line/xy.ts';
import { type Point, toXY, type Way } from './city.ts';

const CELL_M = 80;

export type Segment = { readonly way: Way; readonly a: Point; readonly b: Point; readonly order: number };

/** Every straight piece of the ways, in their order. */
export function segmentsOf(ways: readonly Way[]): Segment[] {
  let order = 0;
  return ways.flatMap((way) =>
    way.points.slice(1).map((b, i) => ({ way, a: way.points[i]!, b, order: order++ })),
  );
}

/** The segments by grid cell. */
export function gridOf(segments: readonly Segment[]): Map<string, Segment[]> {
  const cells = new Map<string, Segment[]>();
  for (const s of segments) {
    const middle = between(toXY(s.a), toXY(s.b), 0.5);
    for (const key of keysAround(middle, distanceM(toXY(s.a), toXY(s.b)) / 2)) {
      const cell = cells.get(key);
      if (cell === undefined) cells.set(key, [s]);
      else cell.push(s);
    }
  }
  return cells;
}

/** Every two segments that share a cell, once each, the earlier one first. */
export function pairsOf(segments: readonly Segment[]): [Segment, Segment][] {
  const seen = new Set<string>();
  const pairs: [Segment, Segment][] = [];
  for (const cell of gridOf(segments).values()) {
    for (let i = 0; i < cell.length; i++) {
      for (let j = i + 1; j < cell.length; j++) {
        const [s, t] = cell[i]!.order < cell[j]!.order ? [cell[i]!, cell[j]!] : [cell[j]!, cell[i]!];
        const key = `${s.order},${t.order}`;
        if (seen.has(key)) continue;
        seen.add(key);
        pairs.push([s, t]);
      }
    }
  }
  return pairs.sort((p, q) => p[0].order - q[0].order || p[1].order - q[1].order);
}

/** The names of the cells within `reachM` of `p`. */
export function* keysAround(p: XY, reachM: number): Generator<string> {
  for (let x = Math.floor((p[0] - reachM) / CELL_M); x <= Math.floor((p[0] + reachM) / CELL_M); x++) {
    for (let y = Math.floor((p[1] - reachM) / CELL_M); y <= Math.floor((p[1] + reachM) / CELL_M); y++)
      yield `${x},${y}`;
  }
}

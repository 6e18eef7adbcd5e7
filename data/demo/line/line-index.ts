import { distanceToSegmentM } from './polyline.ts';
import type { XY } from './xy.ts';

const CELL_M = 100;

type Segment = { readonly a: XY; readonly b: XY; readonly widthM: number };

/** Lines in a grid, so that "how near is the nearest" stays quick. */
export class LineIndex {
  readonly #cells = new Map<string, Segment[]>();

  /** Adds a line whose surface reaches `widthM` to each side. */
  add(line: readonly XY[], widthM = 0): void {
    for (let i = 1; i < line.length; i++) {
      const segment = { a: line[i - 1]!, b: line[i]!, widthM };
      for (const key of cellsOf(segment)) {
        const cell = this.#cells.get(key);
        if (cell === undefined) this.#cells.set(key, [segment]);
        else cell.push(segment);
      }
    }
  }

  /** Distance from `p` to the nearest surface, metres, negative on it; infinite beyond `reachM`. */
  clearanceM(p: XY, reachM: number): number {
    let best = Number.POSITIVE_INFINITY;
    for (const s of this.near(p, reachM)) best = Math.min(best, distanceToSegmentM(p, s.a, s.b) - s.widthM);
    return best;
  }

  /** The segments in the cells within `reachM` of `p`. */
  near(p: XY, reachM: number): Set<Segment> {
    const found = new Set<Segment>();
    const lo = [Math.floor((p[0] - reachM) / CELL_M), Math.floor((p[1] - reachM) / CELL_M)];
    const hi = [Math.floor((p[0] + reachM) / CELL_M), Math.floor((p[1] + reachM) / CELL_M)];
    for (let x = lo[0]!; x <= hi[0]!; x++) {
      for (let y = lo[1]!; y <= hi[1]!; y++) {
        for (const s of this.#cells.get(`${x},${y}`) ?? []) found.add(s);
      }
    }
    return found;
  }
}

function cellsOf(s: Segment): string[] {
  const keys: string[] = [];
  const x1 = Math.floor(Math.max(s.a[0], s.b[0]) / CELL_M);
  const y1 = Math.floor(Math.max(s.a[1], s.b[1]) / CELL_M);
  for (let x = Math.floor(Math.min(s.a[0], s.b[0]) / CELL_M); x <= x1; x++) {
    for (let y = Math.floor(Math.min(s.a[1], s.b[1]) / CELL_M); y <= y1; y++) keys.push(`${x},${y}`);
  }
  return keys;
}

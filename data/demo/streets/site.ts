import { type City, toXY, type Way } from '../city/city.ts';
import { isBored } from '../city/lay-road.ts';
import type { Ground } from '../ground/draw-ground.ts';
import { LineIndex } from '../line/line-index.ts';
import { distanceToSegmentM } from '../line/polyline.ts';
import { between, distanceM, type XY } from '../line/xy.ts';

const FROM_WATER_M = 32;
const FROM_CORRIDOR_M = 24;
const FROM_ROAD_M = 42;
const FROM_STREET_M = 30;

/** Says where small streets may run: on dry ground, off the hills and parks, clear of motorways and rails. */
export class Site {
  readonly #corridors = new LineIndex();
  readonly #streets = new LineIndex();

  constructor(
    city: City,
    readonly ground: Ground,
  ) {
    for (const way of city.ways) this.#note(way);
  }

  #note(way: Way): void {
    const isRoad = way.tags.highway !== undefined || way.tags.railway !== undefined;
    if (!isRoad || isBored(way.tags)) return;
    const line = way.points.map(toXY);
    if (way.joins) this.#streets.add(line, FROM_ROAD_M);
    else this.#corridors.add(line, 5);
  }

  /** Later streets keep clear of this one where they would run beside it. */
  addStreet(line: readonly XY[]): void {
    this.#streets.add(line, FROM_STREET_M);
  }

  /** Whether a street may pass `p` in the direction of the unit vector `heading`. */
  allows(p: XY, heading: XY): boolean {
    if (!this.ground.isLand(p) || this.ground.isGreen(p)) return false;
    if (this.ground.isNearWater(p, FROM_WATER_M)) return false;
    if (this.#corridors.clearanceM(p, FROM_CORRIDOR_M + 10) < FROM_CORRIDOR_M) return false;
    for (const s of this.#streets.near(p, FROM_ROAD_M)) {
      const length = distanceM(s.a, s.b);
      if (length === 0) continue;
      const along = ((s.b[0] - s.a[0]) * heading[0] + (s.b[1] - s.a[1]) * heading[1]) / length;
      if (Math.abs(along) > 0.82 && distanceToSegmentM(p, s.a, s.b) < s.widthM) return false;
    }
    return true;
  }

  /** Whether a street may be led straight from `a` to `b`: over no water, hill, motorway or railway. */
  isOpen(a: XY, b: XY): boolean {
    return straight(a, b, 6).every(
      (p) =>
        this.ground.isLand(p) &&
        !this.ground.isGreen(p) &&
        !this.ground.isNearWater(p, 8) &&
        this.#corridors.clearanceM(p, 20) > 8,
    );
  }

  /** The parts of a line where streets may run inside `within`, at least `shortestM` long. */
  partsOf(line: readonly XY[], within: (p: XY) => boolean, shortestM: number): XY[][] {
    const parts: XY[][] = [];
    let run: XY[] = [];
    const end = () => {
      if (run.length > 1 && distanceAlong(run) >= shortestM) parts.push(run);
      run = [];
    };
    line.forEach((p, i) => {
      const a = line[Math.max(0, i - 1)]!;
      const b = line[Math.min(line.length - 1, i + 1)]!;
      const d = distanceM(a, b);
      if (within(p) && this.allows(p, [(b[0] - a[0]) / d, (b[1] - a[1]) / d])) run.push(p);
      else end();
    });
    end();
    return parts;
  }
}

function distanceAlong(line: readonly XY[]): number {
  let sum = 0;
  for (let i = 1; i < line.length; i++) sum += distanceM(line[i - 1]!, line[i]!);
  return sum;
}

/** Bends a place a little, the same way for all streets of a district, as terrain does. */
export function bent(p: XY, sizeM: number, phase: number): XY {
  const [x, y] = p;
  const dx = Math.sin(y / 310 + phase) + 0.6 * Math.sin(x / 230 - y / 450 + 2 * phase);
  const dy = Math.sin(x / 340 - phase) + 0.6 * Math.sin(y / 250 + x / 480 + 3 * phase);
  return [x + sizeM * dx, y + sizeM * dy];
}

/** A straight line as positions about `stepM` apart. */
export function straight(a: XY, b: XY, stepM = 8): XY[] {
  const n = Math.max(1, Math.round(distanceM(a, b) / stepM));
  return Array.from({ length: n + 1 }, (_, k) => between(a, b, k / n));
}

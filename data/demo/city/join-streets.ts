import { findCrossing, nearestShare } from '../line/polyline.ts';
import { between, distanceM, type XY } from '../line/xy.ts';
import { type City, type Point, toPoint, toXY, type Way } from './city.ts';
import { countUses, Edits } from './edit-ways.ts';
import { gridOf, keysAround, pairsOf, type Segment, segmentsOf } from './segment-grid.ts';

const SAME_M = 5;
const REACH_M = 18;
const STUB_M = 28;
const LEAD_M = 75;

/** Whether a street may be led straight from one place to another. */
export type IsOpen = (a: XY, b: XY) => boolean;

/** Gives ways on the ground a common node where they cross or end on each other, and trims stubs. */
export function joinStreets(city: City, isOpen: IsOpen): void {
  const ways = city.ways.filter((w) => w.joins);
  addCrossings(city, ways);
  attachEnds(city, ways);
  leadOn(city, ways, isOpen);
  addCrossings(city, ways);
  attachEnds(city, ways);
  mergeNear(city, ways);
  trimStubs(city, ways);
}

function addCrossings(city: City, ways: readonly Way[]): void {
  const edits = new Edits();
  for (const [s, t] of pairsOf(segmentsOf(ways))) {
    if (s.a === t.a || s.a === t.b || s.b === t.a || s.b === t.b) continue;
    const hit = findCrossing(toXY(s.a), toXY(s.b), toXY(t.a), toXY(t.b));
    if (hit === undefined) continue;
    const own = existing(s, hit.t);
    const other = existing(t, hit.u);
    if (own !== undefined && other !== undefined) {
      edits.unite(other, own);
      continue;
    }
    const point = own ?? other ?? toPoint(between(toXY(s.a), toXY(s.b), hit.t));
    if (own === undefined) edits.insert(s.way, { after: s.a, share: hit.t, point });
    if (other === undefined) edits.insert(t.way, { after: t.a, share: hit.u, point });
  }
  edits.apply(city);
}

/** An end of the segment that is near enough to serve as the common node. */
function existing(s: Segment, share: number): Point | undefined {
  const length = distanceM(toXY(s.a), toXY(s.b));
  if (share * length < SAME_M) return s.a;
  return (1 - share) * length < SAME_M ? s.b : undefined;
}

/** Ends that nearly reach another street are led on to it. */
function attachEnds(city: City, ways: readonly Way[]): void {
  const uses = countUses(city.ways);
  const cells = gridOf(segmentsOf(ways));
  const edits = new Edits();
  for (const way of ways) {
    for (const end of new Set([way.points[0]!, way.points.at(-1)!])) {
      if (uses.get(end) !== 1 || way.points[0] === way.points.at(-1)) continue;
      const best = nearest(cells, way, toXY(end));
      if (best === undefined) continue;
      const at = existing(best.segment, best.share);
      if (at !== undefined) {
        edits.unite(end, at);
        continue;
      }
      const on = between(toXY(best.segment.a), toXY(best.segment.b), best.share);
      end.x = on[0];
      end.y = on[1];
      edits.insert(best.segment.way, { after: best.segment.a, share: best.share, point: end });
    }
  }
  edits.apply(city);
}

/** Streets that stop short of the next one are led on to it, straight ahead. */
function leadOn(city: City, ways: readonly Way[], isOpen: IsOpen): void {
  const uses = countUses(city.ways);
  const cells = gridOf(segmentsOf(ways));
  for (const way of ways) {
    if (!way.optional || way.points.length < 2) continue;
    for (const back of [false, true]) {
      const [end, before] = back
        ? [way.points[0]!, way.points[1]!]
        : [way.points.at(-1)!, way.points.at(-2)!];
      if (uses.get(end) !== 1) continue;
      const length = distanceM(toXY(before), toXY(end));
      const far = between(toXY(before), toXY(end), (length + LEAD_M) / length);
      const hit = firstHit(cells, way, toXY(end), far);
      if (hit === undefined || !isOpen(toXY(end), hit)) continue;
      if (back) way.points.unshift(toPoint(hit));
      else way.points.push(toPoint(hit));
    }
  }
}

function firstHit(cells: Map<string, Segment[]>, own: Way, from: XY, to: XY): XY | undefined {
  let best = 1;
  for (const key of keysAround(between(from, to, 0.5), LEAD_M / 2)) {
    for (const s of cells.get(key) ?? []) {
      if (s.way === own) continue;
      const hit = findCrossing(from, to, toXY(s.a), toXY(s.b));
      if (hit !== undefined && hit.t < best) best = hit.t;
    }
  }
  return best < 1 ? between(from, to, best) : undefined;
}

function nearest(
  cells: Map<string, Segment[]>,
  own: Way,
  p: XY,
): { segment: Segment; share: number } | undefined {
  let best: { segment: Segment; share: number } | undefined;
  let reach = REACH_M;
  for (const key of keysAround(p, REACH_M)) {
    for (const segment of cells.get(key) ?? []) {
      if (segment.way === own) continue;
      const share = nearestShare(p, toXY(segment.a), toXY(segment.b));
      const d = distanceM(p, between(toXY(segment.a), toXY(segment.b), share));
      if (d >= reach) continue;
      reach = d;
      best = { segment, share };
    }
  }
  return best;
}

/** Junctions of different streets that nearly coincide become one. */
function mergeNear(city: City, ways: readonly Way[]): void {
  const uses = countUses(city.ways);
  const cells = new Map<string, Point[]>();
  const edits = new Edits();
  for (const p of new Set(ways.flatMap((w) => w.points))) {
    if (uses.get(p)! < 2) continue;
    const around = [...keysAround(toXY(p), SAME_M)].flatMap((k) => cells.get(k) ?? []);
    const twin = around.find((q) => distanceM(toXY(p), toXY(q)) < SAME_M);
    if (twin !== undefined) edits.unite(p, twin);
    else for (const key of keysAround(toXY(p), 0)) cells.set(key, [...(cells.get(key) ?? []), p]);
  }
  edits.apply(city);
}

/** Cuts the few metres that stick out beyond a street's last junction. */
function trimStubs(city: City, ways: readonly Way[]): void {
  const uses = countUses(city.ways);
  for (const way of ways) {
    if (way.points[0] === way.points.at(-1)) continue;
    for (const turn of [false, true]) {
      const points = turn ? [...way.points].reverse() : way.points;
      if (uses.get(points[0]!) !== 1) continue;
      const first = points.findIndex((p) => uses.get(p)! > 1);
      if (first <= 0 || points.length - first < 2) continue;
      let length = 0;
      for (let i = 1; i <= first; i++) length += distanceM(toXY(points[i - 1]!), toXY(points[i]!));
      if (length > STUB_M) continue;
      const rest = points.slice(first);
      way.points = turn ? rest.reverse() : rest;
    }
  }
}

import { chainagesM, headingAt, keepShape, pointAt } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';
import { type City, type Point, type Tags, toPoint, type Way, type WayKind } from './city.ts';
import { findBridges } from './find-bridges.ts';

/** Tags that hold from one chainage to another; an empty value takes a tag away. Later stretches win. */
export type Stretch = {
  readonly from: number;
  readonly to: number;
  readonly tags: Tags;
  readonly note?: string;
};

export type RoadPlan = {
  readonly group: number;
  readonly tags: Tags;
  readonly stretches?: readonly Stretch[];
  /** Chainage of each vertex where it is not the line's own length. */
  readonly at?: readonly number[];
  readonly first?: Point;
  readonly last?: Point;
  /** Streets may join it in the open; false for motorways and ramps. Default true. */
  readonly joins?: boolean;
  /** Bridges are made where it crosses water, railways and motorways. Default true. */
  readonly bridges?: boolean;
};

export type Road = {
  readonly ways: readonly Way[];
  readonly endM: number;
  /** The node at a chainage; made when there is none yet. */
  readonly node: (s: number) => Point;
  readonly at: (s: number) => XY;
  readonly heading: (s: number) => XY;
  /** The way that holds the chainage. */
  readonly way: (s: number) => Way;
};

type Piece = { readonly way: Way; readonly at: number[] };

/** Lays a road along a line: cuts it into ways where tags change, in the open, on bridges and in tunnels. */
export function layRoad(city: City, line: readonly XY[], plan: RoadPlan): Road {
  const at = plan.at ?? chainagesM(line);
  const endM = at.at(-1)!;
  const own = plan.stretches ?? [];
  const bridges = plan.bridges === false ? [] : findBridges(city.obstacles, line, at, own);
  const stretches = [...bridges, ...own];
  const cuts = [...new Set([0, endM, ...stretches.flatMap((s) => [s.from, s.to])])]
    .filter((s) => s >= 0 && s <= endM)
    .sort((a, b) => a - b);
  const ends = cuts.map((s) => toPoint(pointAt(line, at, s)));
  if (plan.first !== undefined) ends[0] = plan.first;
  if (plan.last !== undefined) ends[ends.length - 1] = plan.last;
  const pieces = cuts.slice(1).map((to, i): Piece => {
    const from = cuts[i]!;
    const over = stretches.filter((s) => s.from <= from && s.to >= to);
    const tags = mergeTags([plan.tags, ...over.map((s) => s.tags)]);
    const inner = innerVertices(line, at, from, to, isBored(tags));
    const points = [ends[i]!, ...inner.map((s) => toPoint(pointAt(line, at, s))), ends[i + 1]!];
    return { way: city.draw(plan.group, points, tags, kindOf(plan, tags, over)), at: [from, ...inner, to] };
  });
  return {
    ways: pieces.map((p) => p.way),
    endM,
    node: (s) => nodeAt(pieces, s, pointAt(line, at, s)),
    at: (s) => pointAt(line, at, s),
    heading: (s) => headingAt(line, at, s),
    way: (s) => pieceAt(pieces, s).way,
  };
}

function kindOf(plan: RoadPlan, tags: Tags, over: readonly Stretch[]): WayKind {
  const notes = over.flatMap((s) => (s.note === undefined ? [] : [s.note]));
  return {
    joins: plan.joins !== false && isOnGround(tags),
    ...(notes.length === 0 ? {} : { note: notes.join('; ') }),
  };
}

/** Whether the tags put the way underground as a bored or built tunnel. */
export function isBored(tags: Tags): boolean {
  return tags.tunnel === 'yes';
}

function isOnGround(tags: Tags): boolean {
  return !isBored(tags) && tags.bridge === undefined && (tags.layer === undefined || tags.layer === '0');
}

function mergeTags(list: readonly Tags[]): Tags {
  const merged: Tags = {};
  for (const tags of list) Object.assign(merged, tags);
  return Object.fromEntries(Object.entries(merged).filter(([, value]) => value !== ''));
}

/** In tunnels a vertex at least every 25 m; in the open only what the shape needs. */
function innerVertices(
  line: readonly XY[],
  at: readonly number[],
  from: number,
  to: number,
  bored: boolean,
): number[] {
  if (bored) {
    const n = Math.ceil((to - from) / 24);
    return Array.from({ length: n - 1 }, (_, k) => from + ((to - from) * (k + 1)) / n);
  }
  const between = at.filter((s) => s > from + 1 && s < to - 1);
  const all = [from, ...between, to];
  const shape = all.map((s) => pointAt(line, at, s));
  const kept = keepShape(shape, 0.6);
  return kept.slice(1, -1).map((i) => all[i]!);
}

function pieceAt(pieces: readonly Piece[], s: number): Piece {
  const piece = pieces.find((p) => s >= p.at[0]! - 1e-6 && s <= p.at.at(-1)! + 1e-6);
  if (piece === undefined) throw new Error(`no chainage ${s} on this road`);
  return piece;
}

function nodeAt(pieces: readonly Piece[], s: number, where: XY): Point {
  const { way, at } = pieceAt(pieces, s);
  const near = at.findIndex((a) => Math.abs(a - s) < 0.5);
  if (near >= 0) return way.points[near]!;
  const before = at.findIndex((a) => a > s);
  const point = toPoint(where);
  at.splice(before, 0, s);
  way.points.splice(before, 0, point);
  return point;
}

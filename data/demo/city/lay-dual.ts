import { chainagesM, offsetLine } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';
import { type City, type Point, type Tags, toPoint } from './city.ts';
import { addObstacles } from './find-bridges.ts';
import { layRoad, type Road, type Stretch } from './lay-road.ts';

/** Nodes where the carriageways begin and end, for instance on roundabouts. */
export type DualEnds = { forthFirst?: Point; forthLast?: Point; backFirst?: Point; backLast?: Point };

export type DualPlan = {
  readonly group: number;
  readonly tags: Tags;
  /** Half the distance between the carriageways' centrelines, by chainage of the middle line. */
  readonly halfGapM: number | ((s: number) => number);
  /** In chainage of the middle line, for both carriageways. */
  readonly stretches?: readonly Stretch[];
  readonly forthOnly?: readonly Stretch[];
  readonly backOnly?: readonly Stretch[];
  readonly ends?: DualEnds;
  /** The middle line is a ring: each carriageway ends at its own start. */
  readonly closed?: boolean;
};

/** Two one-way carriageways along one middle line; traffic keeps right. `forth` runs with the line. */
export type Dual = {
  readonly forth: Road;
  readonly back: Road;
  readonly middle: readonly XY[];
  readonly endM: number;
};

/** Lays a dual carriageway; both roads take and give chainages of the middle line. */
export function layDual(city: City, middle: readonly XY[], plan: DualPlan): Dual {
  const at = chainagesM(middle);
  const endM = at.at(-1)!;
  const half = plan.halfGapM;
  const gap = typeof half === 'number' ? () => half : half;
  const common = { group: plan.group, tags: plan.tags, joins: false };
  const turned = (s: Stretch): Stretch => ({ ...s, from: endM - s.to, to: endM - s.from });
  const right = offsetLine(middle, (s) => gap(s));
  const left = offsetLine(middle, (s) => -gap(s)).reverse();
  const forth = layRoad(city, right, {
    ...common,
    ...endsOf(right, plan.closed, plan.ends?.forthFirst, plan.ends?.forthLast),
    at,
    stretches: [...(plan.stretches ?? []), ...(plan.forthOnly ?? [])],
  });
  const back = layRoad(city, left, {
    ...common,
    ...endsOf(left, plan.closed, plan.ends?.backFirst, plan.ends?.backLast),
    at: at.map((s) => endM - s).reverse(),
    stretches: [...(plan.stretches ?? []), ...(plan.backOnly ?? [])].map(turned),
  });
  const all = [...(plan.stretches ?? []), ...(plan.forthOnly ?? []), ...(plan.backOnly ?? [])];
  addObstacles(city, middle, at, gap(0) + 8, all);
  return { forth, back: inMiddleChainage(back, endM), middle, endM };
}

function inMiddleChainage(road: Road, endM: number): Road {
  return {
    ways: road.ways,
    endM,
    node: (s) => road.node(endM - s),
    at: (s) => road.at(endM - s),
    heading: (s) => road.heading(endM - s),
    way: (s) => road.way(endM - s),
  };
}

function endsOf(
  line: readonly XY[],
  closed = false,
  first?: Point,
  last?: Point,
): { first?: Point; last?: Point } {
  const join = toPoint(line[0]!);
  if (closed) return { first: join, last: join };
  return { ...(first === undefined ? {} : { first }), ...(last === undefined ? {} : { last }) };
}

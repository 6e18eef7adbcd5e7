import type { City, Tags } from '../city/city.ts';
import type { Dual } from '../city/lay-dual.ts';
import { layRoad, type Road } from '../city/lay-road.ts';
import { sweep } from '../line/curves.ts';
import { distanceM, type XY } from '../line/xy.ts';

const RAMP_FOOT_M = 78;

export type DiamondPlan = {
  readonly group: number;
  readonly dual: Dual;
  /** Chainage of the dual carriageway's middle line where it is crossed. */
  readonly at: number;
  readonly over: Road;
  /** Chainage of the crossing road at that place. */
  readonly overAt: number;
  readonly tags: Tags;
  readonly ref: string;
  readonly name: string;
  readonly destination: string;
  /** How far before and after the crossing the ramps leave and join, metres. */
  readonly reachM?: number;
  /** Where the forward carriageway's exit leaves, in chainage of the middle line. */
  readonly forthExitAt?: number;
};

/** Joins a road that crosses a dual carriageway to it with four ramps; each exit gets its junction node. */
export function layDiamond(city: City, plan: DiamondPlan): void {
  const reach = plan.reachM ?? 300;
  const [rightFoot, leftFoot] = feet(plan);
  const { forth, back } = plan.dual;
  layExit(city, plan, forth, plan.forthExitAt ?? plan.at - reach, rightFoot);
  layEntry(city, plan, forth, plan.at + reach, rightFoot);
  layExit(city, plan, back, plan.at + reach, leftFoot);
  layEntry(city, plan, back, plan.at - reach, leftFoot);
}

function layExit(city: City, plan: DiamondPlan, from: Road, at: number, foot: number): void {
  const diverge = from.node(at);
  diverge.tags = { highway: 'motorway_junction', ref: plan.ref, name: plan.name };
  const line = sweep(from.at(at), from.heading(at), plan.over.at(foot), from.heading(plan.at));
  layRoad(city, line, {
    group: plan.group,
    tags: { ...plan.tags, oneway: 'yes', destination: plan.destination, 'junction:ref': plan.ref },
    first: diverge,
    last: plan.over.node(foot),
    joins: false,
    bridges: false,
  });
}

function layEntry(city: City, plan: DiamondPlan, to: Road, at: number, foot: number): void {
  const line = sweep(plan.over.at(foot), to.heading(plan.at), to.at(at), to.heading(at));
  layRoad(city, line, {
    group: plan.group,
    tags: { ...plan.tags, oneway: 'yes' },
    first: plan.over.node(foot),
    last: to.node(at),
    joins: false,
    bridges: false,
  });
}

/** The crossing road's chainages where the ramps of the forward (right) and backward carriageway end. */
function feet(plan: DiamondPlan): [right: number, left: number] {
  const heading = plan.dual.forth.heading(plan.at);
  const middle = plan.over.at(plan.overAt);
  const ahead = plan.over.at(plan.overAt + RAMP_FOOT_M);
  const side = heading[0] * (ahead[1] - middle[1]) - heading[1] * (ahead[0] - middle[0]);
  const skew = Math.max(0.6, Math.abs(side) / RAMP_FOOT_M);
  const out = RAMP_FOOT_M / skew;
  return side < 0 ? [plan.overAt + out, plan.overAt - out] : [plan.overAt - out, plan.overAt + out];
}

/** The chainages at which the middle line and the road cross, close to `near`. */
export function crossingOf(dual: Dual, over: Road, near: XY): { at: number; overAt: number } {
  let at = 0;
  let overAt = 0;
  let place = near;
  for (let round = 0; round < 12; round++) {
    at = nearestM(dual.endM, (s) => middleAt(dual, s), place);
    overAt = nearestM(over.endM, over.at, middleAt(dual, at));
    place = over.at(overAt);
  }
  return { at, overAt };
}

function middleAt(dual: Dual, s: number): XY {
  const [a, b] = [dual.forth.at(s), dual.back.at(s)];
  return [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
}

function nearestM(endM: number, at: (s: number) => XY, p: XY): number {
  let best = 0;
  for (let s = 0; s <= endM; s += 5) if (distanceM(at(s), p) < distanceM(at(best), p)) best = s;
  let fine = best;
  for (let s = best - 5; s <= best + 5; s += 0.5) {
    if (s >= 0 && s <= endM && distanceM(at(s), p) < distanceM(at(fine), p)) fine = s;
  }
  return fine;
}

import type { City, Point, Tags } from '../city/city.ts';
import { layRoad, type Road, type Stretch } from '../city/lay-road.ts';
import { spline } from '../line/curves.ts';
import { chainagesM } from '../line/polyline.ts';
import { distanceM, type XY } from '../line/xy.ts';

/** A stretch of a road found by the place that its middle is nearest to. */
export type PlaceStretch = {
  readonly near: XY;
  readonly lengthM: number;
  readonly tags: Tags;
  readonly note?: string;
  /** Further tags inside it, in chainage from its start. */
  readonly parts?: readonly Stretch[];
};

export type StreetPlan = {
  readonly group: number;
  readonly through: readonly XY[];
  readonly tags: Tags;
  readonly places?: readonly PlaceStretch[];
  readonly first?: Point;
  readonly last?: Point;
  readonly bridges?: boolean;
};

/** Lays a two-way road smoothly through the given positions. */
export function layStreet(city: City, plan: StreetPlan): Road {
  const line = spline(plan.through, 10);
  const at = chainagesM(line);
  const stretches = (plan.places ?? []).flatMap((p) => stretchesOf(p, at[nearestVertex(line, p.near)]!));
  return layRoad(city, line, {
    group: plan.group,
    tags: plan.tags,
    stretches,
    ...(plan.first === undefined ? {} : { first: plan.first }),
    ...(plan.last === undefined ? {} : { last: plan.last }),
    ...(plan.bridges === undefined ? {} : { bridges: plan.bridges }),
  });
}

function stretchesOf(place: PlaceStretch, middle: number): Stretch[] {
  const from = middle - place.lengthM / 2;
  const note = place.note === undefined ? {} : { note: place.note };
  const parts = (place.parts ?? []).map((s) => ({ ...s, from: from + s.from, to: from + s.to }));
  return [{ from, to: from + place.lengthM, tags: place.tags, ...note }, ...parts];
}

function nearestVertex(line: readonly XY[], p: XY): number {
  let best = 0;
  line.forEach((q, i) => {
    if (distanceM(p, q) < distanceM(p, line[best]!)) best = i;
  });
  return best;
}

import type { City, Point, Tags } from '../city/city.ts';
import { layRoad, type Road } from '../city/lay-road.ts';
import { lengthM } from '../line/polyline.ts';
import type { XY } from '../line/xy.ts';

export const KELL_GROUP = 2;
export const KELL_BORED = { tunnel: 'yes', 'tunnel:name': 'Kell Hill Interchange' };

/** To the end of the ramp, however long it is. */
export const TO_END = Number.POSITIVE_INFINITY;

export type Ramp = {
  readonly line: readonly XY[];
  readonly tags: Tags;
  readonly note: string;
  /** Layer from one chainage to another. */
  readonly layers: readonly (readonly [from: number, to: number, layer: string])[];
  /** The part below ground; all of it by default. */
  readonly bored?: readonly [from: number, to: number];
  readonly first?: Point;
  readonly last?: Point;
};

/** Lays a one-way ramp of the interchange. */
export function layRamp(city: City, ramp: Ramp): Road {
  const total = lengthM(ramp.line);
  const [from, end] = ramp.bored ?? [0, TO_END];
  const to = Math.min(end, total);
  const layers = ramp.layers.map(([a, b, layer]) => ({ from: a, to: Math.min(b, to), tags: { layer } }));
  return layRoad(city, ramp.line, {
    group: KELL_GROUP,
    tags: { ...ramp.tags, oneway: 'yes' },
    stretches: [{ from, to, tags: KELL_BORED, note: ramp.note }, ...layers],
    bridges: false,
    ...(ramp.first === undefined ? {} : { first: ramp.first }),
    ...(ramp.last === undefined ? {} : { last: ramp.last }),
  });
}

import { type City, type Point, type Tags, toXY } from '../city/city.ts';
import type { Road } from '../city/lay-road.ts';
import type { XY } from '../line/xy.ts';
import { layStreet, type PlaceStretch } from './lay-street.ts';

/** Named nodes where roads begin and end, on roundabouts and ramps. */
export type Ends = Readonly<Record<string, Point>>;

/** One road of the plan: the places it goes through, and what is special on the way. */
export type RoadLine = {
  readonly key: string;
  readonly group: number;
  readonly tags: Tags;
  readonly through: readonly XY[];
  readonly from?: string;
  readonly to?: string;
  readonly places?: readonly PlaceStretch[];
};

export const PRIMARY = { highway: 'primary', lanes: '2', maxspeed: '60' };
export const SECONDARY = { highway: 'secondary', lanes: '2', maxspeed: '50' };
export const LANE = { highway: 'unclassified' };
export const TERTIARY = { highway: 'tertiary', maxspeed: '50' };

/** Tags of an ordinary bore with a name of its own. */
export function bored(name: string, layer = '-1'): Tags {
  return { tunnel: 'yes', layer, 'tunnel:name': name };
}

/** Lays the roads in their order and returns them by key. */
export function layRoadLines(city: City, lines: readonly RoadLine[], ends: Ends): Record<string, Road> {
  const roads: Record<string, Road> = {};
  for (const line of lines) {
    const first = line.from === undefined ? undefined : endAt(ends, line.from);
    const last = line.to === undefined ? undefined : endAt(ends, line.to);
    roads[line.key] = layStreet(city, {
      group: line.group,
      through: [...(first ? [toXY(first)] : []), ...line.through, ...(last ? [toXY(last)] : [])],
      tags: line.tags,
      places: line.places ?? [],
      ...(first === undefined ? {} : { first }),
      ...(last === undefined ? {} : { last }),
    });
  }
  return roads;
}

function endAt(ends: Ends, name: string): Point {
  const point = ends[name];
  if (point === undefined) throw new Error(`no end called ${name}`);
  return point;
}

import type { XY } from '../line/xy.ts';

export type Tags = Record<string, string>;

/** A node to be. Two ways join exactly where they hold the same `Point`. */
export type Point = {
  x: number;
  y: number;
  tags?: Tags;
  /** Lies outside the extract: ways name it, the file does not hold it. */
  absent?: boolean;
};

export type Way = {
  readonly group: number;
  points: Point[];
  tags: Tags;
  /** Lies on the open ground, so that streets it meets share a node with it. */
  readonly joins: boolean;
  /** Goes away again if nothing leads to it. */
  readonly optional: boolean;
  /** What the README says about it. */
  readonly note?: string;
};

/** What is known of a way besides its tags; see `Way`. */
export type WayKind = { readonly joins?: boolean; readonly optional?: boolean; readonly note?: string };

export type Member = { readonly of: Way | Point; readonly role: string };
export type Relation = { readonly group: number; readonly members: Member[]; readonly tags: Tags };

/** Something that later roads must bridge: a line with a half width, or the water inside a ring. */
export type Obstacle = { readonly line: readonly XY[]; readonly halfWidthM: number; readonly water: boolean };

/** Everything drawn so far, in local metres. `group` is one topic; it decides the ids. */
export class City {
  readonly ways: Way[] = [];
  readonly places: Point[] = [];
  readonly relations: Relation[] = [];
  readonly obstacles: Obstacle[] = [];

  /** Adds a way and returns it. */
  draw(group: number, points: Point[], tags: Tags, kind: WayKind = {}): Way {
    const way: Way = {
      group,
      points,
      tags,
      joins: kind.joins ?? false,
      optional: kind.optional ?? false,
      ...(kind.note === undefined ? {} : { note: kind.note }),
    };
    this.ways.push(way);
    return way;
  }

  /** Adds a closed way round the ring of positions (the first is not repeated in `ring`). */
  drawArea(group: number, ring: readonly XY[], tags: Tags): Way {
    const points = ring.map(toPoint);
    return this.draw(group, [...points, points[0]!], tags);
  }

  /** Adds a node that stands by itself. */
  mark(at: XY, tags: Tags): Point {
    const point = { ...toPoint(at), tags };
    this.places.push(point);
    return point;
  }

  relate(group: number, members: Member[], tags: Tags): void {
    this.relations.push({ group, members, tags });
  }
}

/** Makes a node to be from a position. */
export function toPoint(at: XY): Point {
  return { x: at[0], y: at[1] };
}

/** The position of a node to be. */
export function toXY(p: Point): XY {
  return [p.x, p.y];
}

import type { City, Point, Way } from './city.ts';

export type Insert = { readonly after: Point; readonly share: number; readonly point: Point };

/** Nodes to be made one, and nodes to be added to ways; nothing changes until `apply`. */
export class Edits {
  readonly #inserts = new Map<Way, Insert[]>();
  readonly #alias = new Map<Point, Point>();

  insert(way: Way, insert: Insert): void {
    const list = this.#inserts.get(way);
    if (list === undefined) this.#inserts.set(way, [insert]);
    else list.push(insert);
  }

  /** Lets `kept` stand for `gone` everywhere. */
  unite(gone: Point, kept: Point): void {
    const [g, k] = [this.#final(gone), this.#final(kept)];
    if (g === k) return;
    this.#alias.set(g, k);
    if (g.tags !== undefined) k.tags = { ...g.tags, ...k.tags };
  }

  apply(city: City): void {
    for (const [way, list] of this.#inserts) way.points = withInserts(way.points, list);
    for (const way of city.ways) {
      const points = way.points.map((p) => this.#final(p));
      way.points = points.filter((p, i) => p !== points[i - 1]);
    }
    for (const relation of city.relations) {
      relation.members.forEach((m, i) => {
        if (!('points' in m.of)) relation.members[i] = { ...m, of: this.#final(m.of) };
      });
    }
  }

  #final(p: Point): Point {
    let q = p;
    for (let next = this.#alias.get(q); next !== undefined; next = this.#alias.get(q)) q = next;
    return q;
  }
}

/** How many ways use each node. */
export function countUses(ways: readonly Way[]): Map<Point, number> {
  const uses = new Map<Point, number>();
  for (const way of ways) for (const p of new Set(way.points)) uses.set(p, (uses.get(p) ?? 0) + 1);
  return uses;
}

function withInserts(points: readonly Point[], list: readonly Insert[]): Point[] {
  const out: Point[] = [];
  points.forEach((p, i) => {
    out.push(p);
    if (i === points.length - 1) return;
    const here = list.filter((x) => x.after === p).sort((a, b) => a.share - b.share);
    for (const insert of here) if (out.at(-1) !== insert.point) out.push(insert.point);
  });
  return out;
}

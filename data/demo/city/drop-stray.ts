import type { City, Point, Way } from './city.ts';

/** Takes away optional streets that no road leads to. */
export function dropStrayStreets(city: City): void {
  const roads = city.ways.filter((w) => w.tags.highway !== undefined);
  const parent = new Map<Point, Point>();
  const root = (p: Point): Point => {
    let r = p;
    for (let up = parent.get(r); up !== undefined && up !== r; up = parent.get(r)) r = up;
    parent.set(p, r);
    return r;
  };
  for (const way of roads) for (const p of way.points) parent.set(root(p), root(way.points[0]!));
  const size = new Map<Point, number>();
  for (const way of roads) size.set(root(way.points[0]!), (size.get(root(way.points[0]!)) ?? 0) + 1);
  const main = [...size].sort((a, b) => b[1] - a[1])[0]![0];
  const stray = new Set<Way>(roads.filter((w) => w.optional && root(w.points[0]!) !== main));
  const left = city.ways.filter((w) => !stray.has(w) && w.points.length > 1);
  city.ways.splice(0, city.ways.length, ...left);
}

import { readFileSync } from 'node:fs';
import geodesic from 'geographiclib-geodesic';
import { expect } from 'vitest';
import { type PlainNode, type PlainWay, readByPattern } from './read-by-pattern.ts';

/** The extract as text, and what the plain reader found in it. */
export const xml = readFileSync(new URL('./aldermouth.osm', import.meta.url), 'utf8');
export const { nodes, ways, relations, ids } = readByPattern(xml);

/** Every way below ground that has a `highway` tag. */
export const bores = ways.filter(
  (w) => w.tags.tunnel === 'yes' && w.tags.highway !== undefined && w.tags.area !== 'yes',
);

/** The geodesic from one node to another. */
export function inverse(a: number, b: number): { s12?: number; azi1?: number } {
  const [p, q] = [nodes.get(a)!, nodes.get(b)!];
  return geodesic.Geodesic.WGS84.Inverse(p.lat, p.lon, q.lat, q.lon);
}

/** Length of the geodesic between two nodes, metres. */
export function distanceM(a: number, b: number): number {
  return inverse(a, b).s12!;
}

/** Neighbouring nodes that the file holds. */
export function segmentsOf(way: PlainWay): [number, number][] {
  return way.nodes
    .slice(1)
    .map((b, i): [number, number] => [way.nodes[i]!, b])
    .filter(([a, b]) => nodes.has(a) && nodes.has(b));
}

/** Ways put end to end in their direction: where they start and end, and how long they are. */
export function chain(list: readonly PlainWay[]): { first: number; last: number; lengthM: number } {
  const firsts = new Set(list.map((w) => w.nodes[0]!));
  const lasts = new Set(list.map((w) => w.nodes.at(-1)!));
  const first = [...firsts].filter((n) => !lasts.has(n));
  const last = [...lasts].filter((n) => !firsts.has(n));
  expect([first.length, last.length]).toEqual([1, 1]);
  const lengthM = list.flatMap(segmentsOf).reduce((sum, [a, b]) => sum + distanceM(a, b), 0);
  return { first: first[0]!, last: last[0]!, lengthM };
}

/** How often each number occurs. */
export function countBy(list: readonly number[]): Map<number, number> {
  const counts = new Map<number, number>();
  for (const n of list) counts.set(n, (counts.get(n) ?? 0) + 1);
  return counts;
}

/** Whether two segments cross, taken as plane lines. */
export function crosses(s: { a: number; b: number }, t: { a: number; b: number }): boolean {
  const [a, b, c, d] = [s.a, s.b, t.a, t.b].map((n) => nodes.get(n)!) as [
    PlainNode,
    PlainNode,
    PlainNode,
    PlainNode,
  ];
  return side(a, b, c) !== side(a, b, d) && side(c, d, a) !== side(c, d, b);
}

function side(a: PlainNode, b: PlainNode, p: PlainNode): boolean {
  return (b.lon - a.lon) * (p.lat - a.lat) > (b.lat - a.lat) * (p.lon - a.lon);
}

/** Whether the node lies inside the closed way. */
export function holds(ring: PlainWay, node: number): boolean {
  const p = nodes.get(node)!;
  let inside = false;
  for (const [m, n] of segmentsOf(ring)) {
    const [a, b] = [nodes.get(m)!, nodes.get(n)!];
    if (a.lat > p.lat === b.lat > p.lat) continue;
    if (p.lon < ((b.lon - a.lon) * (p.lat - a.lat)) / (b.lat - a.lat) + a.lon) inside = !inside;
  }
  return inside;
}

/** Positive when the ring runs counter-clockwise, with the land on its left. */
export function area(ring: PlainWay): number {
  return segmentsOf(ring).reduce((sum, [m, n]) => {
    const [a, b] = [nodes.get(m)!, nodes.get(n)!];
    return sum + (a.lon + 20) * (b.lat - 46) - (b.lon + 20) * (a.lat - 46);
  }, 0);
}

import { type City, toXY, type Way } from '../city/city.ts';
import type { Ids } from '../city/write-osm.ts';
import { lengthM } from '../line/polyline.ts';
import { toTable } from './to-table.ts';

/** One row for each noted tunnel of the plan: name, what it is, class, length and ways; Markdown. */
export function listTunnels(city: City, ids: Ids): string {
  const groups = new Map<string, Way[]>();
  for (const way of city.ways) {
    if (way.note === undefined || way.tags.tunnel !== 'yes') continue;
    const what = way.note.split(';')[0]!;
    groups.set(what, [...(groups.get(what) ?? []), way]);
  }
  const first = (ways: readonly Way[]) => Math.min(...ways.map((w) => ids.way.get(w)!));
  const rows = [...groups]
    .sort((a, b) => first(a[1]) - first(b[1]))
    .map(([what, ways]) => rowOf(what, ways, ids));
  return toTable([['name', 'what', 'class', 'metres', 'ways'], ...rows]);
}

function rowOf(what: string, ways: readonly Way[], ids: Ids): string[] {
  const tags = ways[0]!.tags;
  const metres = ways.reduce((sum, w) => sum + lengthM(w.points.map(toXY)), 0);
  return [
    tags['tunnel:name'] ?? tags.name ?? '(none)',
    what,
    tags.highway ?? 'railway',
    String(Math.round(metres)),
    rangesOf(ways.map((w) => ids.way.get(w)!)),
  ];
}

/** Ids in short: runs as `first–last`. */
export function rangesOf(numbers: readonly number[]): string {
  const runs: [number, number][] = [];
  for (const n of [...new Set(numbers)].sort((a, b) => a - b)) {
    const last = runs.at(-1);
    if (last !== undefined && n === last[1] + 1) last[1] = n;
    else runs.push([n, n]);
  }
  return runs.map(([a, b]) => (a === b ? `${a}` : `${a}–${b}`)).join(', ');
}

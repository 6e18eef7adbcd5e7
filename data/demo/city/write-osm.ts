import type { XY } from '../line/xy.ts';
import type { City, Point, Relation, Tags, Way } from './city.ts';
import { toLonLat } from './project.ts';

const TIMESTAMP = '2026-01-01T00:00:00Z';
const WAY_BASE = 1_900_000_000;
const NODE_BASE = 8_000_000_000;
const RELATION_BASE = 19_000_000;

export type Ids = { readonly node: Map<Point, number>; readonly way: Map<Way, number> };

/** Numbers every object: each group has a range of its own, so that a change in one topic moves no other id. */
export function numberObjects(city: City): Ids {
  const ways = new Map<Way, number>();
  const nodes = new Map<Point, number>();
  const used = new Map<number, number>();
  const next = (group: number) => {
    used.set(group, (used.get(group) ?? 0) + 1);
    return used.get(group)!;
  };
  const seen = new Map<number, number>();
  for (const way of sortedWays(city)) {
    seen.set(way.group, (seen.get(way.group) ?? 0) + 1);
    ways.set(way, WAY_BASE + way.group * 1000 + seen.get(way.group)!);
    for (const p of way.points) {
      if (!nodes.has(p)) nodes.set(p, NODE_BASE + way.group * 100_000 + next(way.group));
    }
  }
  for (const p of city.places) if (!nodes.has(p)) nodes.set(p, NODE_BASE + next(0));
  return { node: nodes, way: ways };
}

/** Writes the city as OSM XML, the same bytes every time. */
export function writeOsm(city: City, ids: Ids, southWest: XY, northEast: XY): string {
  const [minlon, minlat] = toLonLat(southWest);
  const [maxlon, maxlat] = toLonLat(northEast);
  const out = [
    '<?xml version="1.0" encoding="UTF-8"?>',
    `<osm version="0.6" generator="boremark demo" timestamp="${TIMESTAMP}">`,
    '  <note>Aldermouth is an invented city. Nothing here is from OpenStreetMap. CC0 1.0.</note>',
    `  <bounds minlat="${minlat}" minlon="${minlon}" maxlat="${maxlat}" maxlon="${maxlon}"/>`,
  ];
  for (const [p, id] of [...ids.node].sort((a, b) => a[1] - b[1])) {
    if (p.absent !== true) out.push(...writeNode(p, id));
  }
  for (const way of sortedWays(city)) {
    out.push(`  <way id="${ids.way.get(way)!}" version="1">`);
    for (const p of way.points) out.push(`    <nd ref="${ids.node.get(p)!}"/>`);
    out.push(...writeTags(way.tags), '  </way>');
  }
  const relations = city.relations.map((relation, i) => ({
    relation,
    id: RELATION_BASE + relation.group * 100 + i,
  }));
  for (const { relation, id } of relations.sort((a, b) => a.id - b.id))
    out.push(...writeRelation(relation, id, ids));
  out.push('</osm>', '');
  return out.join('\n');
}

function writeRelation(relation: Relation, id: number, ids: Ids): string[] {
  const members = relation.members.map(({ of, role }) => {
    const type = 'points' in of ? 'way' : 'node';
    const ref = 'points' in of ? ids.way.get(of) : ids.node.get(of);
    if (ref === undefined) throw new Error(`a member of relation ${id} was never drawn`);
    return `    <member type="${type}" ref="${ref}" role="${role}"/>`;
  });
  return [`  <relation id="${id}" version="1">`, ...members, ...writeTags(relation.tags), '  </relation>'];
}

function sortedWays(city: City): Way[] {
  return city.ways
    .map((way, i) => ({ way, i }))
    .sort((a, b) => a.way.group - b.way.group || a.i - b.i)
    .map((e) => e.way);
}

function writeNode(p: Point, id: number): string[] {
  const [lon, lat] = toLonLat([p.x, p.y]);
  const head = `  <node id="${id}" version="1" lat="${lat}" lon="${lon}"`;
  if (p.tags === undefined) return [`${head}/>`];
  return [`${head}>`, ...writeTags(p.tags), '  </node>'];
}

function writeTags(tags: Tags): string[] {
  return Object.keys(tags)
    .sort()
    .map((k) => `    <tag k="${escaped(k)}" v="${escaped(tags[k]!)}"/>`);
}

function escaped(text: string): string {
  return text.replace(/&/g, '&amp;').replace(/"/g, '&quot;').replace(/</g, '&lt;');
}

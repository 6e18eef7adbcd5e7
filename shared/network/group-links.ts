import { bearing } from '@turf/turf';
import Flatbush from 'flatbush';
import type { Ruler } from '../alignment/make-ruler.ts';
import { boundsOf } from '../geodesy/bounds-of.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { localDelta } from '../geodesy/segment.ts';
import type { OsmRelation } from '../osm/extract.ts';
import { longestOf } from './describe-stretches.ts';
import { type LinkRuler, type LinkRulers, makeLinkRulers } from './link-rulers.ts';
import type { Grouping, Link, LinkId } from './network.ts';

/** When bores that share no node are one tunnel all the same. Metres. */
export type GroupingRules = {
  /** Bores of one name or ref belong together when they come this near to each other. */
  readonly sameNameM: number;
  /** Parallel bores of opposite direction belong together when they run this near to each other. */
  readonly twinM: number;
};

/**
 * A person's word on whether two bores are one tunnel. It names OSM ways, so that it holds on a newer extract too;
 * bores that share a node cannot be split.
 */
export type GroupingOverride = {
  readonly kind: 'join' | 'split';
  readonly ways: readonly [number, number];
};

export type Group = { readonly links: readonly Link[]; readonly grouping: readonly Grouping[] };

/** Twins run side by side over at least this share of the shorter one. */
const TWIN_OVERLAP = 0.5;
const SAMPLE_M = 20;

type Body = { readonly links: readonly Link[]; readonly name?: string; readonly ref?: string };

/**
 * Groups links of one kind into complexes: shared nodes first; then a tunnel relation, the same
 * tunnel name or ref and near; then parallel, close, opposite and side by side. Every grouping keeps its reason.
 */
export function groupLinks(
  links: readonly Link[],
  relations: readonly OsmRelation[],
  rules: GroupingRules,
  overrides: readonly GroupingOverride[] = [],
  rulers: LinkRulers = makeLinkRulers(),
): readonly Group[] {
  const bodies = joinByNodes(links).map(describeBody);
  const traced = traceLinks(rulers);
  const bodyOfWay = indexWays(bodies);
  const pairs = (kind: GroupingOverride['kind']) =>
    overrides
      .filter((override) => override.kind === kind)
      .map(({ ways }) => ways.map((way) => bodyOfWay.get(way)))
      .filter((pair): pair is [number, number] => pair.every((body) => body !== undefined));
  const sets = makeSets(bodies.length, pairs('split'));
  const reasons: { a: number; grouping: Grouping }[] = [];
  const join = (a: number, b: number, reason: Grouping['reason'], detail: string) => {
    if (!sets.union(a, b)) return;
    const linkIds = [...idsOf(bodies[a] as Body), ...idsOf(bodies[b] as Body)].sort();
    reasons.push({ a, grouping: { reason, detail, linkIds } });
  };
  for (const [a, b] of pairs('join')) join(a, b, 'by-hand', 'joined by a person');
  joinByRelation(bodyOfWay, relations, join);
  const near = listNear(bodies, Math.max(rules.sameNameM, rules.twinM));
  for (const [a, b] of near) joinByName(bodies, a, b, rules.sameNameM, traced, join);
  for (const [a, b] of near) joinTwins(bodies, a, b, rules.twinM, traced, join);
  const groups = new Map<number, { links: Link[]; grouping: Grouping[] }>();
  bodies.forEach((body, i) => {
    const group = groups.get(sets.find(i)) ?? { links: [], grouping: [] };
    group.links.push(...body.links);
    if (body.links.length > 1) {
      group.grouping.push({
        reason: 'shared-nodes',
        detail: `${body.links.length} links`,
        linkIds: idsOf(body),
      });
    }
    groups.set(sets.find(i), group);
  });
  for (const { a, grouping } of reasons) groups.get(sets.find(a))?.grouping.push(grouping);
  return [...groups.values()].map((group) => ({
    links: group.links.sort((a, b) => (a.id < b.id ? -1 : 1)),
    grouping: group.grouping,
  }));
}

type Join = (a: number, b: number, reason: Grouping['reason'], detail: string) => void;

function idsOf(body: Body): LinkId[] {
  return body.links.map((link) => link.id).sort();
}

/** The links that hang together by shared end nodes, in the order of their first link. */
export function joinByNodes(links: readonly Link[]): readonly (readonly Link[])[] {
  const sets = makeSets(links.length);
  const firstAt = new Map<number, number>();
  links.forEach((link, i) => {
    for (const node of [link.fromNode, link.toNode]) {
      const other = firstAt.get(node);
      if (other === undefined) firstAt.set(node, i);
      else sets.union(other, i);
    }
  });
  const bodies = new Map<number, Link[]>();
  links.forEach((link, i) => {
    bodies.set(sets.find(i), [...(bodies.get(sets.find(i)) ?? []), link]);
  });
  return [...bodies.values()];
}

function describeBody(links: readonly Link[]): Body {
  const stretches = links.flatMap((link) => link.stretches);
  const name = longestOf(stretches, (s) => s.tunnelName) ?? longestOf(stretches, (s) => s.name);
  const ref = longestOf(stretches, (s) => s.ref);
  return { links, ...(name === undefined ? {} : { name }), ...(ref === undefined ? {} : { ref }) };
}

function indexWays(bodies: readonly Body[]): ReadonlyMap<number, number> {
  const bodyOfWay = new Map<number, number>();
  bodies.forEach((body, i) => {
    for (const link of body.links) for (const stretch of link.stretches) bodyOfWay.set(stretch.wayId, i);
  });
  return bodyOfWay;
}

function joinByRelation(
  bodyOfWay: ReadonlyMap<number, number>,
  relations: readonly OsmRelation[],
  join: Join,
): void {
  for (const relation of relations) {
    if (relation.tags.type !== 'tunnel') continue;
    const members = relation.members
      .filter((member) => member.type === 'way')
      .map((member) => bodyOfWay.get(member.ref))
      .filter((body) => body !== undefined);
    for (const body of members.slice(1))
      join(members[0] as number, body, 'tunnel-relation', String(relation.id));
  }
}

/** Pairs of bodies whose bounding boxes come within `withinM`, lower index first. */
function listNear(bodies: readonly Body[], withinM: number): readonly (readonly [number, number])[] {
  if (bodies.length < 2) return [];
  const index = new Flatbush(bodies.length);
  const boxes = bodies.map((body) => boundsOf(body.links.map((link) => link.line)));
  for (const [west, south, east, north] of boxes) index.add(west, south, east, north);
  index.finish();
  return boxes.flatMap(([west, south, east, north], a) => {
    // Generous: one degree of latitude is at least 110,574 m; longitude shrinks with the cosine.
    const dLat = withinM / 110_574;
    const dLon =
      dLat / Math.max(0.05, Math.cos((Math.max(Math.abs(south), Math.abs(north)) * Math.PI) / 180));
    return index
      .search(west - dLon, south - dLat, east + dLon, north + dLat)
      .filter((b) => b > a)
      .sort((x, y) => x - y)
      .map((b) => [a, b] as const);
  });
}

function joinByName(
  bodies: readonly Body[],
  a: number,
  b: number,
  nearM: number,
  traced: Traced,
  join: Join,
): void {
  const [one, other] = [bodies[a] as Body, bodies[b] as Body];
  const isNamed = one.name !== undefined && one.name === other.name;
  // A ref names a whole road: alone it joins only bores that carry no names that differ.
  const isRef = one.ref !== undefined && one.ref === other.ref && (one.name ?? other.name) === undefined;
  if (!isNamed && !isRef) return;
  const gapM = gapBetween(one, other, nearM, traced);
  if (gapM > nearM) return;
  const detail = `${isNamed ? one.name : one.ref}, ${Math.round(gapM)} m apart`;
  join(a, b, isNamed ? 'same-name' : 'same-ref', detail);
}

/** Metres between two bodies, taken from the ends of the one and from places along it; Infinity beyond `nearM`. */
function gapBetween(one: Body, other: Body, nearM: number, traced: Traced): number {
  const others = other.links.map((link) => traced(link));
  let gapM = Number.POSITIVE_INFINITY;
  for (const link of one.links) {
    const ends = [link.line[0] as LonLat, link.line.at(-1) as LonLat];
    for (const at of [...ends, ...traced(link).samples.map((sample) => sample.at)]) {
      for (const { ruler, isFarther } of others) {
        if (!isFarther(at, Math.min(gapM, nearM))) gapM = Math.min(gapM, ruler.locate(at).distanceM);
      }
    }
  }
  return gapM;
}

function joinTwins(
  bodies: readonly Body[],
  a: number,
  b: number,
  twinM: number,
  traced: Traced,
  join: Join,
): void {
  const [one, other] = [bodies[a] as Body, bodies[b] as Body];
  const onlyOneWay = (body: Body) => body.links.filter((link) => link.direction === 'forward');
  const [left, right] = [onlyOneWay(one), onlyOneWay(other)];
  if (left.length === 0 || right.length === 0) return;
  // Two names, or two kinds of road, are two tunnels however near they run.
  if (one.name !== undefined && other.name !== undefined && one.name !== other.name) return;
  if (roadOf(one) !== roadOf(other)) return;
  const besides = besideM(left, right, twinM, traced);
  const shorterM = Math.min(total(left), total(right));
  if (besides.lengthM < TWIN_OVERLAP * shorterM) return;
  join(
    a,
    b,
    'twin-bore',
    `opposite bores ${Math.round(besides.meanM)} m apart over ${Math.round(besides.lengthM)} m`,
  );
}

/** The class of road that most of a body carries, ramps counted with their road. */
function roadOf(body: Body): string | undefined {
  return longestOf(
    body.links.flatMap((link) => link.stretches),
    (stretch) => stretch.roadClass.replace('_link', ''),
  );
}

function total(links: readonly Link[]): number {
  return links.reduce((sum, link) => sum + link.lengthM, 0);
}

/** The length over which `left` runs beside `right` in the opposite direction, and how far apart on average. */
function besideM(left: readonly Link[], right: readonly Link[], twinM: number, traced: Traced) {
  const others = right.map((link) => traced(link));
  let lengthM = 0;
  let apartM = 0;
  for (const link of left) {
    const { ruler, samples } = traced(link);
    const stepM = ruler.lengthM / samples.length;
    for (const { at, bearingDeg } of samples) {
      const gaps = others
        .filter((other) => !other.isFarther(at, twinM))
        .map(({ ruler: other }) => ({ other, located: other.locate(at) }))
        .filter(
          ({ other, located }) =>
            located.distanceM <= twinM &&
            isOpposite(other, located.chainageM, bearingDeg) &&
            !isBeyond(other, located.chainageM, at),
        );
      if (gaps.length === 0) continue;
      lengthM += stepM;
      apartM += stepM * Math.min(...gaps.map(({ located }) => located.distanceM));
    }
  }
  return { lengthM, meanM: lengthM === 0 ? 0 : apartM / lengthM };
}

function isOpposite(ruler: Ruler, chainageM: number, bearingDeg: number): boolean {
  const other = ruler.bearingAt(chainageM);
  if (!other.ok) return false;
  return Math.abs(((((other.value - bearingDeg) % 360) + 360) % 360) - 180) < 30;
}

/** How far past an end of a line a point may lie and still count as beside it, metres: two links of one bore meet in a bend. */
const BEYOND_M = 5;

/** Whether a point lies past the end of a line, in the line's own direction: then it is not beside it. */
function isBeyond(ruler: Ruler, chainageM: number, at: LonLat): boolean {
  if (chainageM > 0 && chainageM < ruler.lengthM) return false;
  const end = ruler.pointAt(chainageM);
  const direction = ruler.bearingAt(chainageM);
  if (!end.ok || !direction.ok) return true;
  const { east, north } = localDelta(end.value, at);
  const rad = (direction.value * Math.PI) / 180;
  return Math.abs(east * Math.sin(rad) + north * Math.cos(rad)) > BEYOND_M;
}

type Sample = { readonly at: LonLat; readonly bearingDeg: number };

/** A link's ruler with places along it, each link traced once. */
type Traced = (link: Link) => LinkRuler & { readonly samples: readonly Sample[] };

function traceLinks(rulers: LinkRulers): Traced {
  const traced = new Map<Link, ReturnType<Traced>>();
  return (link) => {
    const known = traced.get(link);
    if (known !== undefined) return known;
    const linkRuler = rulers(link);
    const made = { ...linkRuler, samples: takeSamples(linkRuler.ruler) };
    traced.set(link, made);
    return made;
  };
}

/** Middle points of equal pieces of about SAMPLE_M, with the direction there. */
function takeSamples(ruler: Ruler): readonly Sample[] {
  const pieces = Math.max(2, Math.round(ruler.lengthM / SAMPLE_M));
  return Array.from({ length: pieces }, (_, k) => {
    const chainageM = ((k + 0.5) / pieces) * ruler.lengthM;
    const at = ruler.pointAt(chainageM);
    const ahead = ruler.pointAt(Math.min(ruler.lengthM, chainageM + 1));
    if (!at.ok || !ahead.ok) throw new Error('sample outside the line');
    return { at: at.value, bearingDeg: bearing([...at.value], [...ahead.value]) };
  });
}

/** Sets that are joined step by step; two that hold the two sides of a pair in `apart` never are. */
function makeSets(size: number, apart: readonly (readonly [number, number])[] = []) {
  const parent = Array.from({ length: size }, (_, i) => i);
  const find = (i: number): number => {
    let root = i;
    while (parent[root] !== root) root = parent[root] as number;
    parent[i] = root;
    return root;
  };
  return {
    find,
    /** False where both were one already; the lower index stays the root. */
    union(a: number, b: number): boolean {
      const [x, y] = [find(a), find(b)];
      if (x === y) return false;
      const isApart = apart.some(([p, q]) => {
        const [rootP, rootQ] = [find(p), find(q)];
        return (rootP === x && rootQ === y) || (rootP === y && rootQ === x);
      });
      if (isApart) return false;
      parent[Math.max(x, y)] = Math.min(x, y);
      return true;
    },
  };
}

import { boundsOf } from '../geodesy/bounds-of.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { makeBoxIndex } from '../geodesy/make-box-index.ts';
import type { OsmRelation } from '../osm/extract.ts';
import { longestOf } from './describe-stretches.ts';
import { type LinkRulers, makeLinkRulers } from './link-rulers.ts';
import { makeSets } from './make-sets.ts';
import { measureBeside } from './measure-beside.ts';
import type { Grouping, Link, LinkId } from './network.ts';
import { type Traced, traceLinks } from './trace-links.ts';

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
  const boxes = bodies.map((body) => boundsOf(body.links.map((link) => link.line)));
  const findNear = makeBoxIndex(boxes);
  return boxes.flatMap((box, a) =>
    findNear(box, withinM)
      .filter((b) => b > a)
      .map((b) => [a, b] as const),
  );
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
  const besides = measureBeside(left, right, twinM, traced);
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

import { boundsOf } from '../geodesy/bounds-of.ts';
import type { OsmExtract } from '../osm/extract.ts';
import { byText } from '../outcome/by-text.ts';
import { type Finding, finding, type Staged } from '../outcome/finding.ts';
import { buildLinks, type LinkSet } from './build-links.ts';
import { classifyWays } from './classify-ways.ts';
import { longestOf } from './describe-stretches.ts';
import { findFeatureCandidates } from './find-feature-candidates.ts';
import { findJunctions } from './find-junctions.ts';
import {
  type Group,
  type GroupingOverride,
  type GroupingRules,
  groupLinks,
  joinByNodes,
} from './group-links.ts';
import { durationOf, type Legs, makeLegs } from './legs.ts';
import { makeLinkRulers } from './link-rulers.ts';
import { listFeatures } from './list-features.ts';
import { listRoutes } from './list-routes.ts';
import { measureOutages, type OutageMeasures } from './measure-outages.ts';
import type {
  Complex,
  ComplexId,
  Decision,
  Link,
  Merge,
  Opening,
  Portal,
  TunnelKind,
  TunnelNetwork,
} from './network.ts';
import { readRestrictions } from './read-restrictions.ts';
import { makeRoadGraph, type RoadGraph } from './road-graph.ts';
import { type AfterPortal, type AfterPortalRules, traceAfterPortal } from './trace-after-portal.ts';

export type NetworkRules = GroupingRules &
  AfterPortalRules & {
    /** What people said about which bores are one tunnel. */
    readonly overrides?: readonly GroupingOverride[];
  };

/** Project defaults. */
export const NETWORK_RULES: NetworkRules = { sameNameM: 100, twinM: 60, recoveryS: 5, approachM: 500 };

const KINDS: readonly TunnelKind[] = ['tunnel', 'covered', 'gallery'];

/**
 * Extract → tunnel network: classify the ways, join them to links, group the links into complexes, find what
 * matters at their nodes. Everything dropped or assumed is a finding, sorted by id.
 */
export function buildNetwork(extract: OsmExtract, rules: NetworkRules): Staged<TunnelNetwork> {
  const ways = classifyWays(extract);
  const turns = readRestrictions(extract);
  const graph = makeRoadGraph(ways.value, turns.value, listJunctionRefs(extract));
  const findings: Finding[] = [...ways.findings, ...turns.findings];
  const links: Link[] = [];
  const complexes: Complex[] = [];
  const rulers = makeLinkRulers();
  const candidates = findFeatureCandidates(extract, ways.value);
  const edge = { isCutAt: ways.value.isCutAt, bbox: extract.bbox };
  const taken = new Map<ComplexId, number>();
  for (const kind of KINDS) {
    const set = buildLinks(graph, kind);
    findings.push(...set.findings);
    links.push(...set.value.links);
    const features = listFeatures(candidates, set.value.links, rulers);
    const legs = makeLegs(graph, set.value, kind);
    const around = groupLinks(set.value.links, extract.relations, rules, rules.overrides, rulers).map(
      (group) => lookAround(graph, set.value, kind, group, edge, rules),
    );
    // An outage can go on into a tunnel of another name: measured over all of them.
    const measures = measureOutages(
      legs,
      around.flatMap((one) => one.portals),
      around.flatMap((one) => one.openings),
    );
    for (const found of around) {
      const { complex: described, isCut } = describeComplex(legs, kind, found, measures);
      const complex = { ...described, id: freeId(described.id, taken) };
      const own = new Set(complex.linkIds);
      complexes.push({ ...complex, features: features.filter(({ linkId }) => own.has(linkId)) });
      findings.push(...listFindings(complex, isCut));
    }
  }
  findings.push(...listUnmatched(links, rules.overrides ?? []));
  const byId = <T extends { id: string }>(a: T, b: T) => byText(a.id, b.id);
  const unique = new Map(findings.map((item) => [item.id, item]));
  const drivingSide = graph.drivingSide();
  return {
    value: {
      links: links.sort(byId),
      complexes: complexes.sort(byId),
      ...(drivingSide === undefined ? {} : { drivingSide }),
    },
    findings: [...unique.values()].sort(byId),
  };
}

/** A way that falls apart because the extract lacks one of its nodes would name two complexes: a number follows. */
function freeId(id: ComplexId, taken: Map<ComplexId, number>): ComplexId {
  const before = taken.get(id) ?? 0;
  taken.set(id, before + 1);
  return before === 0 ? id : (`${id}-${before + 1}` as ComplexId);
}

function listJunctionRefs(extract: OsmExtract): ReadonlyMap<number, string> {
  const refs = new Map<number, string>();
  for (const { id, tags } of extract.nodes) {
    if (tags?.highway === 'motorway_junction' && tags.ref !== undefined) refs.set(id, tags.ref);
  }
  return refs;
}

/** A group of links with what matters at its nodes and after its exit portals. */
type Around = {
  readonly group: Group;
  readonly portals: readonly Portal[];
  readonly diverges: readonly Omit<Decision, 'distanceFromFixM'>[];
  readonly merges: readonly Merge[];
  readonly after: readonly ({ readonly portal: Portal } & AfterPortal)[];
  readonly openings: readonly Opening[];
};

function lookAround(
  graph: RoadGraph,
  set: LinkSet,
  kind: TunnelKind,
  group: Group,
  edge: Parameters<typeof findJunctions>[4],
  rules: NetworkRules,
): Around {
  const endNodes = new Set(group.links.flatMap((link) => [link.fromNode, link.toNode]));
  const junctions = findJunctions(
    graph,
    set,
    kind,
    [...endNodes].sort((a, b) => a - b),
    edge,
  );
  const after = junctions.portals
    .filter((portal) => portal.direction !== 'in' && !portal.deadEnd && !portal.edgeOfExtract)
    .map((portal) => ({ portal, ...traceAfterPortal(graph, set, kind, portal, rules) }));
  return { group, ...junctions, after, openings: after.flatMap((found) => found.openings) };
}

function describeComplex(
  legs: Legs,
  kind: TunnelKind,
  { group, portals, diverges, merges, after, openings }: Around,
  measures: OutageMeasures,
): { readonly complex: Omit<Complex, 'features'>; readonly isCut: boolean } {
  const { links } = group;
  const decisionNodes = new Set(diverges.map((diverge) => diverge.osmNode));
  const routes = listRoutes(legs, links, portals, openings, decisionNodes);
  const withFix = (
    decision: Omit<Decision, 'distanceFromFixM'>,
    node: number,
    beyondM: number,
  ): Decision => ({
    ...decision,
    distanceFromFixM: (measures.fromFixM.get(node) ?? 0) + beyondM,
  });
  const stretches = links.flatMap((link) => link.stretches);
  const name = longestOf(stretches, (s) => s.tunnelName) ?? longestOf(stretches, (s) => s.name);
  const ref = longestOf(stretches, (s) => s.ref);
  const osmWays = [...new Set(stretches.map((stretch) => stretch.wayId))].sort((a, b) => a - b);
  const complex: Omit<Complex, 'features'> = {
    id: `t${osmWays[0]}${kind === 'tunnel' ? '' : `-${kind}`}` as ComplexId,
    ...(name === undefined ? {} : { name }),
    ...(ref === undefined ? {} : { ref }),
    kind,
    restricted: links.every((link) => link.restricted),
    linkIds: links.map((link) => link.id),
    boreCount: joinByNodes(links).length,
    portals,
    diverges: diverges.map((decision) => withFix(decision, decision.osmNode, 0)),
    merges,
    decisionsAfterPortal: mergeDecisions(
      after.flatMap(({ portal, decisions }) =>
        decisions.map((decision) => withFix(decision, portal.osmNode, decision.distanceFromPortalM ?? 0)),
      ),
    ),
    openings,
    routes: routes.routes,
    grouping: group.grouping,
    lengthM: links.reduce((sum, link) => sum + link.lengthM, 0),
    // Without an entry and an exit (cut by the extract's edge) there is no route to measure: the longest link is.
    longestRouteM: Math.max(
      ...(routes.routes.length > 0 ? routes.routes : links).map((measured) => measured.lengthM),
    ),
    outageS: Math.max(
      ...links.map((link) => measures.outageS.get(link.id) ?? durationOf(link, false)),
      ...routes.routes.map((route) => route.durationS),
    ),
    bbox: boundsOf(links.map((link) => link.line)),
    osmWays,
  };
  return { complex, isCut: routes.isCut };
}

/** Overrides that name a way which is no tunnel (any more). */
function listUnmatched(links: readonly Link[], overrides: readonly GroupingOverride[]): readonly Finding[] {
  const ways = new Set(links.flatMap((link) => link.stretches.map((stretch) => stretch.wayId)));
  return overrides.flatMap(({ kind, ways: named }) =>
    named
      .filter((way) => !ways.has(way))
      .map((way) =>
        finding('override-unmatched', { kind: 'way', id: String(way) }, { override: kind }, undefined, kind),
      ),
  );
}

/** A node that several portals lead to counts once, with the longest way since the last fix; the others are kept with it. */
function mergeDecisions(decisions: readonly Decision[]): readonly Decision[] {
  const byNode = new Map<number, Decision[]>();
  for (const decision of decisions) {
    byNode.set(decision.osmNode, [...(byNode.get(decision.osmNode) ?? []), decision]);
  }
  const merged = [...byNode.values()].map((same): Decision => {
    const main = same.reduce((most, one) => (one.distanceFromFixM > most.distanceFromFixM ? one : most));
    const alsoFrom = same.flatMap(({ portalNode, distanceFromPortalM, reachShare = 1 }) =>
      portalNode === undefined || distanceFromPortalM === undefined || portalNode === main.portalNode
        ? []
        : [{ portalNode, distanceM: distanceFromPortalM, reachShare }],
    );
    return { ...main, ...(alsoFrom.length === 0 ? {} : { alsoFrom }) };
  });
  return merged.sort((a, b) => a.osmNode - b.osmNode);
}

function listFindings(complex: Omit<Complex, 'features'>, isCut: boolean): readonly Finding[] {
  const subject = { kind: 'complex', id: complex.id } as const;
  return [
    ...(isCut
      ? [finding('routes-cut', subject, { listed: complex.routes.length }, complex.portals[0]?.at)]
      : []),
    ...complex.portals
      .filter((portal) => portal.deadEnd)
      .map((p) =>
        finding('portal-dead-end', { kind: 'node', id: String(p.osmNode) }, { tunnel: complex.id }, p.at),
      ),
    ...complex.portals
      .filter((portal) => portal.edgeOfExtract)
      .map((p) =>
        finding('portal-extract-edge', { kind: 'node', id: String(p.osmNode) }, { tunnel: complex.id }, p.at),
      ),
    ...complex.grouping
      .filter((grouping) => grouping.reason !== 'shared-nodes')
      .map((g, i) =>
        finding(
          'complex-grouped',
          subject,
          { reason: g.reason, detail: g.detail },
          complex.portals[0]?.at,
          String(i),
        ),
      ),
  ];
}

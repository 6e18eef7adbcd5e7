import type { LinkSet } from './build-links.ts';
import type { Link, LinkId, Portal, Route, RouteStep, TunnelKind } from './network.ts';
import { canArrive, canLeave, farNode, type Half, type RoadGraph } from './road-graph.ts';

/** More routes than this are not listed; a finding says so. */
const MAX_ROUTES = 500;
/** The search stops after so many steps, whatever it found: a mesh of streets under one roof has no end. */
const MAX_STEPS = 200_000;

export type RouteList = { readonly routes: readonly Route[]; readonly isCut: boolean };

/**
 * Lists the legal ways through a complex, from an entry portal to an exit portal, by one-way rules and turn
 * restrictions, without U-turns. No node is passed twice, so that a roundabout makes no endless laps. Sorted by
 * entry, exit and length; cut at MAX_ROUTES.
 */
export function listRoutes(
  graph: RoadGraph,
  set: LinkSet,
  kind: TunnelKind,
  links: readonly Link[],
  portals: readonly Portal[],
  decisionNodes: ReadonlySet<number>,
): RouteList {
  const turns = makeTurns(graph, set, kind);
  const portalAt = new Map(portals.map((portal) => [portal.osmNode, portal]));
  const routes: Route[] = [];
  let steps = 0;
  let isCut = false;

  const walk = (entry: number, path: readonly Leg[], seen: ReadonlySet<number>) => {
    const last = path.at(-1) as Leg;
    steps += 1;
    if (steps > MAX_STEPS || routes.length >= MAX_ROUTES) {
      isCut = true;
      return;
    }
    const portal = portalAt.get(last.endNode);
    if (portal !== undefined && canLeaveBy(graph, kind, portal, last)) {
      routes.push(toRoute(entry, path, decisionNodes));
    }
    for (const next of turns.after(last)) {
      if (seen.has(next.endNode)) continue;
      walk(entry, [...path, next], new Set([...seen, next.endNode]));
    }
  };
  const own = new Set(links.map((link) => link.id));
  for (const portal of portals) {
    for (const leg of turns.entering(portal)) {
      if (own.has(leg.link.id)) walk(portal.osmNode, [leg], new Set([portal.osmNode, leg.endNode]));
    }
  }
  routes.sort(
    (a, b) =>
      a.entryNode - b.entryNode || a.exitNode - b.exitNode || a.lengthM - b.lengthM || (a.id < b.id ? -1 : 1),
  );
  return { routes, isCut };
}

/** One link driven in one direction; `arrival` is its last segment seen from the node it ends at. */
type Leg = {
  readonly link: Link;
  readonly against: boolean;
  readonly endNode: number;
  readonly arrival: Half;
};

/** What may follow a leg, and what a driver may begin with at a portal. */
function makeTurns(graph: RoadGraph, set: LinkSet, kind: TunnelKind) {
  const toLeg = (half: Half): Leg | undefined => {
    const link = set.findLink(half);
    if (link === undefined) return undefined;
    const against = !isStart(link, half);
    const endNode = against ? link.fromNode : link.toNode;
    const before = against ? link.nodes[1] : link.nodes.at(-2);
    const arrival = graph
      .halvesAt(endNode)
      .find(
        (other) =>
          set.findLink(other) === link &&
          farNode(other) === before &&
          (link.nodes.length > 2 || other.way === half.way),
      );
    return arrival === undefined ? undefined : { link, against, endNode, arrival };
  };
  const inside = (half: Half) => half.way.roof === kind;
  return {
    after: (leg: Leg): readonly Leg[] =>
      graph
        .movementsAt(leg.endNode)
        .filter(({ from, to }) => isSame(from, leg.arrival) && inside(to))
        .flatMap(({ to }) => toLeg(to) ?? []),
    entering(portal: Portal): readonly Leg[] {
      if (portal.direction === 'out') return [];
      const halves = graph.halvesAt(portal.osmNode);
      const starts =
        portal.deadEnd || portal.edgeOfExtract
          ? halves.filter((half) => inside(half) && canLeave(half))
          : graph
              .movementsAt(portal.osmNode)
              .filter(({ from, to }) => !inside(from) && inside(to))
              .map(({ to }) => to);
      return [...new Set(starts)].flatMap((half) => toLeg(half) ?? []);
    },
  };
}

function isSame(a: Half, b: Half): boolean {
  return a.way === b.way && a.index === b.index && a.step === b.step;
}

/** Whether the half is the link's first segment, seen from its start. */
function isStart(link: Link, half: Half): boolean {
  return link.nodes[0] === half.way.nodes[half.index] && link.nodes[1] === farNode(half);
}

/** Whether a driver on this leg may leave the tunnel at its end. */
function canLeaveBy(graph: RoadGraph, kind: TunnelKind, portal: Portal, leg: Leg): boolean {
  if (portal.direction === 'in') return false;
  if (portal.deadEnd || portal.edgeOfExtract) return canArrive(leg.arrival);
  return graph
    .movementsAt(portal.osmNode)
    .some(({ from, to }) => isSame(from, leg.arrival) && to.way.roof !== kind);
}

function toRoute(entryNode: number, path: readonly Leg[], decisionNodes: ReadonlySet<number>): Route {
  const steps: RouteStep[] = path.map(({ link, against }) => ({ linkId: link.id, against }));
  const exitNode = (path.at(-1) as Leg).endNode;
  return {
    id: `n${entryNode}-n${exitNode}:${steps.map((step) => shortId(step.linkId)).join('.')}`,
    entryNode,
    exitNode,
    steps,
    lengthM: path.reduce((sum, { link }) => sum + link.lengthM, 0),
    durationS: path.reduce((sum, { link }) => sum + durationOf(link), 0),
    decisionNodes: path.map((leg) => leg.endNode).filter((node) => decisionNodes.has(node)),
  };
}

/** The first way's id names a link within a route well enough to be read; the whole list of steps makes it unique. */
function shortId(id: LinkId): string {
  return id.replaceAll('-', '_');
}

/** Driving time over a link at the speed limits, seconds. */
export function durationOf(link: Link): number {
  return link.stretches.reduce((sum, stretch) => sum + (stretch.toM - stretch.fromM) / stretch.speedMps, 0);
}

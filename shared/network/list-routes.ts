import { durationOf, type Leg, type Legs } from './legs.ts';
import type { Link, Portal, Route, RouteStep } from './network.ts';

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
  legs: Legs,
  links: readonly Link[],
  portals: readonly Portal[],
  decisionNodes: ReadonlySet<number>,
): RouteList {
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
    if (portal !== undefined && legs.leaves(last, portal)) {
      routes.push(toRoute(entry, path, decisionNodes));
    }
    for (const next of legs.after(last)) {
      if (seen.has(next.endNode)) continue;
      walk(entry, [...path, next], new Set([...seen, next.endNode]));
    }
  };
  const own = new Set(links.map((link) => link.id));
  for (const portal of portals) {
    for (const leg of legs.entering(portal)) {
      if (own.has(leg.link.id)) walk(portal.osmNode, [leg], new Set([portal.osmNode, leg.endNode]));
    }
  }
  routes.sort(
    (a, b) =>
      a.entryNode - b.entryNode || a.exitNode - b.exitNode || a.lengthM - b.lengthM || (a.id < b.id ? -1 : 1),
  );
  return { routes, isCut };
}

function toRoute(entryNode: number, path: readonly Leg[], decisionNodes: ReadonlySet<number>): Route {
  const steps: RouteStep[] = path.map(({ link, against }) => ({ linkId: link.id, against }));
  const exitNode = (path.at(-1) as Leg).endNode;
  return {
    id: toRouteId(entryNode, exitNode, steps),
    entryNode,
    exitNode,
    steps,
    lengthM: path.reduce((sum, { link }) => sum + link.lengthM, 0),
    durationS: path.reduce((sum, { link, against }) => sum + durationOf(link, against), 0),
    decisionNodes: path.map((leg) => leg.endNode).filter((node) => decisionNodes.has(node)),
  };
}

/** Names a route by its ends and its links, which make it unique. */
export function toRouteId(entryNode: number, exitNode: number, steps: readonly RouteStep[]): string {
  return `n${entryNode}-n${exitNode}:${steps.map(({ linkId }) => linkId.replaceAll('-', '_')).join('.')}`;
}

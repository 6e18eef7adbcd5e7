import { durationOf, type Leg, type Legs } from './legs.ts';
import type { Link, Opening, Portal, Route, RouteStep } from './network.ts';

/** More routes than this are not listed; a finding says so. */
export const MAX_ROUTES = 500;
/** The search stops after so many steps, whatever it found: a mesh of streets under one roof has no end. */
const MAX_STEPS = 200_000;

export type RouteList = { readonly routes: readonly Route[]; readonly isCut: boolean };

/** A leg of a route, and the opening that it was reached through. */
type Passed = { readonly leg: Leg; readonly opening?: Opening };

/**
 * Lists the legal ways through a complex, from an entry portal to an exit portal, by one-way rules and turn
 * restrictions, without U-turns, and on through `openings` into its other bores. No node is passed twice, so that a roundabout makes no endless laps. Sorted by
 * entry, exit and length; cut at MAX_ROUTES.
 */
export function listRoutes(
  legs: Legs,
  links: readonly Link[],
  portals: readonly Portal[],
  openings: readonly Opening[],
  decisionNodes: ReadonlySet<number>,
): RouteList {
  const portalAt = new Map(portals.map((portal) => [portal.osmNode, portal]));
  const routes: Route[] = [];
  let steps = 0;
  let isCut = false;

  const own = new Set(links.map((link) => link.id));
  const walk = (entry: number, path: readonly Passed[], seen: ReadonlySet<number>) => {
    const { leg: last } = path.at(-1) as Passed;
    steps += 1;
    if (steps > MAX_STEPS || routes.length >= MAX_ROUTES) {
      isCut = true;
      return;
    }
    const portal = portalAt.get(last.endNode);
    if (portal !== undefined && legs.leaves(last, portal)) {
      routes.push(toRoute(entry, path, decisionNodes));
      for (const opening of openings)
        if (opening.fromNode === last.endNode) goThrough(entry, path, seen, opening);
    }
    for (const leg of legs.after(last)) {
      if (seen.has(leg.endNode)) continue;
      walk(entry, [...path, { leg }], new Set([...seen, leg.endNode]));
    }
  };
  const goThrough = (entry: number, path: readonly Passed[], seen: ReadonlySet<number>, opening: Opening) => {
    const portal = portalAt.get(opening.toNode);
    if (portal === undefined || seen.has(opening.toNode)) return;
    for (const leg of legs.entering(portal)) {
      if (!own.has(leg.link.id) || seen.has(leg.endNode)) continue;
      walk(entry, [...path, { leg, opening }], new Set([...seen, opening.toNode, leg.endNode]));
    }
  };
  for (const portal of portals) {
    for (const leg of legs.entering(portal)) {
      if (own.has(leg.link.id)) walk(portal.osmNode, [{ leg }], new Set([portal.osmNode, leg.endNode]));
    }
  }
  routes.sort(
    (a, b) =>
      a.entryNode - b.entryNode || a.exitNode - b.exitNode || a.lengthM - b.lengthM || (a.id < b.id ? -1 : 1),
  );
  return { routes, isCut };
}

function toRoute(entryNode: number, path: readonly Passed[], decisionNodes: ReadonlySet<number>): Route {
  const steps = path.map(
    ({ leg, opening }): RouteStep => ({
      linkId: leg.link.id,
      against: leg.against,
      ...(opening === undefined ? {} : { opening }),
    }),
  );
  const exitNode = (path.at(-1) as Passed).leg.endNode;
  const sum = (of: (passed: Passed) => number) => path.reduce((total, passed) => total + of(passed), 0);
  return {
    id: toRouteId(entryNode, exitNode, steps),
    entryNode,
    exitNode,
    steps,
    lengthM: sum(({ leg, opening }) => leg.link.lengthM + (opening?.lengthM ?? 0)),
    durationS: sum(({ leg, opening }) => durationOf(leg.link, leg.against) + (opening?.durationS ?? 0)),
    decisionNodes: path.map(({ leg }) => leg.endNode).filter((node) => decisionNodes.has(node)),
  };
}

/** Names a route by its ends and its links with their direction, which make it unique. */
export function toRouteId(entryNode: number, exitNode: number, steps: readonly RouteStep[]): string {
  const names = steps.map(({ linkId, against }) => `${linkId.replaceAll('-', '_')}${against ? '~' : ''}`);
  return `n${entryNode}-n${exitNode}:${names.join('.')}`;
}

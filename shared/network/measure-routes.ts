import { durationOf } from './list-routes.ts';
import type { Link, Opening, Portal } from './network.ts';

export type RouteMeasures = {
  /** The longest of the shortest legal ways from an entry portal to an exit portal, metres. */
  readonly longestRouteM: number;
  /** The longest driving time on such a way at the speed limits, seconds. */
  readonly outageS: number;
  /** For each node: the farthest entry portal's shortest legal distance to it, metres. */
  readonly fromEntryM: ReadonlyMap<number, number>;
};

/**
 * Measures a complex by shortest legal ways from every entry portal; rings cannot make it run on. A complex
 * without an entry and an exit (cut by the extract's edge) is measured by its longest link.
 */
export function measureRoutes(
  links: readonly Link[],
  portals: readonly Portal[],
  openings: readonly Opening[] = [],
): RouteMeasures {
  const leaving = new Map<number, { to: number; lengthM: number; durationS: number }[]>();
  const add = (from: number, to: number, link: Link) => {
    const edge = { to, lengthM: link.lengthM, durationS: durationOf(link) };
    leaving.set(from, [...(leaving.get(from) ?? []), edge]);
  };
  for (const link of links) {
    add(link.fromNode, link.toNode, link);
    if (link.direction !== 'forward') add(link.toNode, link.fromNode, link);
  }
  // An opening too short to recover in is part of the outage, and so of the way through.
  for (const { fromNode, toNode, lengthM, durationS } of openings) {
    leaving.set(fromNode, [...(leaving.get(fromNode) ?? []), { to: toNode, lengthM, durationS }]);
  }
  const exits = new Set(
    portals.filter((portal) => portal.direction !== 'in').map((portal) => portal.osmNode),
  );
  const fromEntryM = new Map<number, number>();
  let longestRouteM = 0;
  let outageS = 0;
  for (const entry of portals.filter((portal) => portal.direction !== 'out')) {
    for (const [node, { atM, atS }] of shortest(entry.osmNode, leaving)) {
      fromEntryM.set(node, Math.max(fromEntryM.get(node) ?? 0, atM));
      if (node === entry.osmNode || !exits.has(node)) continue;
      longestRouteM = Math.max(longestRouteM, atM);
      outageS = Math.max(outageS, atS);
    }
  }
  if (longestRouteM > 0) return { longestRouteM, outageS, fromEntryM };
  return {
    longestRouteM: Math.max(...links.map((link) => link.lengthM)),
    outageS: Math.max(...links.map(durationOf)),
    fromEntryM,
  };
}

type Edge = { readonly to: number; readonly lengthM: number; readonly durationS: number };

/** Dijkstra; complexes have tens of nodes, so a plain search for the nearest will do. */
function shortest(start: number, leaving: ReadonlyMap<number, readonly Edge[]>) {
  const done = new Map<number, { atM: number; atS: number }>();
  const open = [{ node: start, atM: 0, atS: 0 }];
  while (open.length > 0) {
    open.sort((a, b) => b.atM - a.atM);
    const { node, atM, atS } = open.pop() as { node: number; atM: number; atS: number };
    if (done.has(node)) continue;
    done.set(node, { atM, atS });
    for (const edge of leaving.get(node) ?? []) {
      if (!done.has(edge.to))
        open.push({ node: edge.to, atM: atM + edge.lengthM, atS: atS + edge.durationS });
    }
  }
  return done;
}

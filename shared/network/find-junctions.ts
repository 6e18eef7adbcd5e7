import type { BBox } from '../geodesy/lon-lat.ts';
import type { LinkSet } from './build-links.ts';
import { describeBranches } from './describe-branches.ts';
import type { Decision, Merge, Portal, TunnelKind } from './network.ts';
import { canArrive, canLeave, farNode, type Half, positionOf, type RoadGraph } from './road-graph.ts';

/** What one node of a complex is. */
export type Junctions = {
  readonly portals: readonly Portal[];
  readonly diverges: readonly Omit<Decision, 'distanceFromFixM'>[];
  readonly merges: readonly Merge[];
};

/**
 * Finds portals, diverges and merges among the end nodes of some links, by legal movements without U-turns.
 * A fork right at the mouth (one branch underground, one in the open air, or both in the open air) is a decision
 * too, for the driver comes out of the bore.
 */
export function findJunctions(
  graph: RoadGraph,
  links: LinkSet,
  kind: TunnelKind,
  endNodes: readonly number[],
  edge: { isCutAt(node: number): boolean; readonly bbox: BBox | undefined },
): Junctions {
  const portals: Portal[] = [];
  const diverges: Omit<Decision, 'distanceFromFixM'>[] = [];
  const merges: Merge[] = [];
  for (const osmNode of endNodes) {
    const halves = graph.halvesAt(osmNode);
    const inside = halves.filter((half) => half.way.roof === kind);
    const first = inside[0];
    if (first === undefined) continue;
    const at = positionOf(first);
    const portal = findPortal(graph, kind, osmNode, halves, inside, edge);
    if (portal !== undefined) portals.push(portal);
    const fromInside = graph.movementsAt(osmNode).filter(({ from }) => from.way.roof === kind);
    const toInside = graph.movementsAt(osmNode).filter(({ to }) => to.way.roof === kind);
    const leaving = countMost(
      fromInside.map(({ from, to }) => [from, to]),
      kind,
    );
    if (leaving.all > 1) {
      const branches = describeBranches(fromInside, links, graph.junctionRefAt(osmNode));
      diverges.push({
        osmNode,
        at,
        where: 'underground',
        inside: leaving.inside > 1,
        branches,
        speedMps: speedAt(links, inside),
      });
    }
    // The mirror: two or more legal ways to come into one way to go.
    const coming = countMost(
      toInside.map(({ from, to }) => [to, from]),
      kind,
    );
    if (coming.all > 1) merges.push({ osmNode, at, inside: coming.inside > 1 });
  }
  return { portals, diverges, merges };
}

/** The most second halves that one first half is paired with: all of them, and those underground. */
function countMost(
  pairs: readonly (readonly [Half, Half])[],
  kind: TunnelKind,
): { all: number; inside: number } {
  const counts = new Map<Half, { all: number; inside: number }>();
  for (const [one, other] of pairs) {
    const count = counts.get(one) ?? { all: 0, inside: 0 };
    counts.set(one, { all: count.all + 1, inside: count.inside + (other.way.roof === kind ? 1 : 0) });
  }
  const values = [...counts.values()];
  return {
    all: Math.max(0, ...values.map((count) => count.all)),
    inside: Math.max(0, ...values.map((count) => count.inside)),
  };
}

function speedAt(links: LinkSet, halves: readonly Half[]): number {
  return Math.max(...halves.map((half) => links.findLink(half)?.speedMps ?? 0));
}

function findPortal(
  graph: RoadGraph,
  kind: TunnelKind,
  osmNode: number,
  halves: readonly Half[],
  inside: readonly Half[],
  edge: { isCutAt(node: number): boolean; readonly bbox: BBox | undefined },
): Portal | undefined {
  const first = inside[0] as Half;
  const at = positionOf(first);
  if (halves.length > inside.length) {
    const movements = graph.movementsAt(osmNode);
    const isIn = movements.some(({ from, to }) => from.way.roof !== kind && to.way.roof === kind);
    const isOut = movements.some(({ from, to }) => from.way.roof === kind && to.way.roof !== kind);
    // Ways that only meet head to head (a one-way error in the data) still are a mouth: take the bore's own direction.
    const direction = isIn === isOut ? ownDirection(first, isIn) : isIn ? 'in' : 'out';
    return { osmNode, at, direction, deadEnd: false, edgeOfExtract: false };
  }
  const neighbours = new Set(inside.map(farNode));
  if (neighbours.size > 1 || inside.length > 1) return undefined;
  const edgeOfExtract = edge.isCutAt(osmNode) || isOutside(at, edge.bbox);
  return { osmNode, at, direction: ownDirection(first, false), deadEnd: !edgeOfExtract, edgeOfExtract };
}

function ownDirection(half: Half, both: boolean): Portal['direction'] {
  if (both || (canLeave(half) && canArrive(half))) return 'both';
  return canLeave(half) ? 'in' : 'out';
}

function isOutside([lon, lat]: readonly [number, number], bbox: BBox | undefined): boolean {
  if (bbox === undefined) return false;
  const [west, south, east, north] = bbox;
  return lon <= west || lon >= east || lat <= south || lat >= north;
}

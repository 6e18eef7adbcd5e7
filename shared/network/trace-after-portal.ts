import { segmentLengthM } from '../geodesy/segment.ts';
import type { LinkSet } from './build-links.ts';
import { describeBranches } from './describe-branches.ts';
import type { Decision, Opening, Portal, TunnelKind } from './network.ts';
import {
  canArrive,
  farNode,
  type Half,
  type Movement,
  positionOf,
  type RoadGraph,
  turnAround,
} from './road-graph.ts';

/** How the stretch after a portal is judged; metres and seconds. */
export type AfterPortalRules = {
  /** Driving time until satellite positioning has recovered. */
  readonly recoveryS: number;
  /** Never followed farther than this. */
  readonly approachM: number;
};

/** AASHTO, decision sight distance, avoidance manoeuvre E (urban, change of path): 14.0 to 14.5 s of travel; the upper value. */
const DECISION_TIME_S = 14.5;

/** The stretch after an exit portal in which a driver decides on a position that has not recovered, metres. */
export function blindStretchM(speedMps: number, rules: AfterPortalRules): number {
  return Math.min(rules.approachM, speedMps * (rules.recoveryS + DECISION_TIME_S));
}

/** What follows an exit portal. */
export type AfterPortal = {
  readonly decisions: readonly Omit<Decision, 'distanceFromFixM'>[];
  readonly openings: readonly Opening[];
};

/**
 * Finds the decision points in the open air after an exit portal: every node, within the blind stretch of
 * driving, where the driver can legally choose. Driveways and car parks do not count as a choice for through traffic.
 * Finds too the openings that end before satellite positioning has recovered.
 */
export function traceAfterPortal(
  graph: RoadGraph,
  links: LinkSet,
  kind: TunnelKind,
  portal: Portal,
  rules: AfterPortalRules,
): AfterPortal {
  const halves = graph.halvesAt(portal.osmNode);
  const speedMps = Math.max(
    ...halves.filter((half) => half.way.roof === kind).map((half) => links.findLink(half)?.speedMps ?? 0),
  );
  const limitM = blindStretchM(speedMps, rules);
  const reached = new Map<Half, number>();
  const decisions = new Map<number, Omit<Decision, 'distanceFromFixM'>>();
  const openings = new Map<number, Opening>();
  const out = graph
    .movementsAt(portal.osmNode)
    .filter(({ from, to }) => from.way.roof === kind && to.way.roof !== kind);
  const open: State[] = out.map(({ to }) => ({ half: to, atM: 0, atS: 0, share: 1 / out.length }));
  while (open.length > 0) {
    // Few states: the nearest first by a plain search.
    open.sort((a, b) => b.atM - a.atM);
    const { half, atM, atS, share } = open.pop() as State;
    if (reached.has(half)) continue;
    reached.set(half, atM);
    const back = turnAround(half);
    const distanceM = atM + segmentLengthM(positionOf(half), positionOf(back));
    const durationS = atS + (distanceM - atM) / graph.limitMpsOf(half);
    const node = farNode(half);
    if (distanceM > limitM) continue;
    const bend = graph.goOn(half);
    if (bend !== undefined) {
      const isAllowed = graph.allows(node, half.way.wayId, half.way.wayId);
      if (isAllowed) open.push({ half: bend, atM: distanceM, atS: durationS, share });
      continue;
    }
    const onward = movementsFrom(graph, node, back);
    if (onward.length > 1 && !decisions.has(node) && node !== portal.osmNode) {
      decisions.set(node, {
        osmNode: node,
        at: positionOf(back),
        where: 'after portal',
        inside: false,
        branches: describeBranches(onward, links, graph.junctionRefAt(node)),
        distanceFromPortalM: distanceM,
        reachShare: share,
        portalNode: portal.osmNode,
        speedMps,
      });
    }
    const each = share / Math.max(1, onward.length);
    for (const { to } of onward)
      if (to.way.roof !== kind) open.push({ half: to, atM: distanceM, atS: durationS, share: each });
    // Back underground before the position has recovered: the outage goes on.
    const isBack = node !== portal.osmNode && onward.some(({ to }) => to.way.roof === kind);
    if (isBack && durationS < rules.recoveryS && !openings.has(node)) {
      const { osmNode } = portal;
      openings.set(node, {
        fromNode: osmNode,
        toNode: node,
        lengthM: distanceM,
        durationS,
      });
    }
  }
  return { decisions: [...decisions.values()], openings: [...openings.values()] };
}

/** A half that is driven next, how far from the portal it begins, and the share of the drivers who come to it. */
type State = { readonly half: Half; readonly atM: number; readonly atS: number; readonly share: number };

/** Legal movements from one arrival, yards and driveways left out unless the driver is in one. */
function movementsFrom(graph: RoadGraph, node: number, arrival: Half): readonly Movement[] {
  if (!canArrive(arrival)) return [];
  const isMinor = (half: Half) => half.way.restricted || half.way.roadClass === 'service';
  return graph
    .movementsAt(node)
    .filter(
      ({ from, to }) =>
        from.way === arrival.way &&
        from.index === arrival.index &&
        from.step === arrival.step &&
        (isMinor(arrival) || !isMinor(to)),
    );
}

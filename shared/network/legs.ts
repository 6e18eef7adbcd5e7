import type { LinkSet } from './build-links.ts';
import type { Link, Portal, TunnelKind } from './network.ts';
import { canArrive, canLeave, farNode, type Half, type RoadGraph } from './road-graph.ts';

/** One link driven in one direction; `arrival` is its last segment seen from the node it ends at. */
export type Leg = {
  readonly link: Link;
  readonly against: boolean;
  readonly endNode: number;
  readonly arrival: Half;
};

export type Legs = {
  /** What may follow, by one-way rules and turn restrictions, without U-turns. */
  after(leg: Leg): readonly Leg[];
  /** What a driver may begin with at a portal. */
  entering(portal: Portal): readonly Leg[];
  /** Whether the driver may leave the tunnel at the leg's end. */
  leaves(leg: Leg, portal: Portal): boolean;
};

/** The legal ways to drive the links of one kind, link by link. */
export function makeLegs(graph: RoadGraph, set: LinkSet, kind: TunnelKind): Legs {
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
    after: (leg) =>
      graph
        .movementsAt(leg.endNode)
        .filter(({ from, to }) => isSame(from, leg.arrival) && inside(to))
        .flatMap(({ to }) => toLeg(to) ?? []),
    entering(portal) {
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
    leaves(leg, portal) {
      if (portal.direction === 'in') return false;
      if (portal.deadEnd || portal.edgeOfExtract) return canArrive(leg.arrival);
      return graph
        .movementsAt(portal.osmNode)
        .some(({ from, to }) => isSame(from, leg.arrival) && !inside(to));
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

/** Driving time over a link at the speed limits of its direction, seconds. */
export function durationOf(link: Link, against: boolean): number {
  return link.stretches.reduce((sum, stretch) => {
    const limitMps = (against ? stretch.againstMps : stretch.alongMps) ?? stretch.speedMps;
    return sum + (stretch.toM - stretch.fromM) / limitMps;
  }, 0);
}

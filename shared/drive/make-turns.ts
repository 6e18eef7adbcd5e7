import type { ComplexNetwork, Decision, LinkId, Route, RouteStep } from '../network/network.ts';
import { type ArcNumber, listApproaches, listDrivenArcs } from '../placement/driven-arcs.ts';

/** What a driver may choose underground. */
export type Turns = {
  /** The decision that a route's step leads to, where the driver who comes that way can choose. */
  readonly findDecision: (step: RouteStep, endNode: number) => Decision | undefined;
  /** The other branches that a driver who comes by one step might take instead of the next. */
  readonly listSisters: (step: RouteStep, next: RouteStep) => readonly Sister[];
};

/** A branch by its link; `against` its direction of digitising. */
export type Sister = Pick<RouteStep, 'linkId' | 'against'>;

/** A decision after a portal, as a route that leaves by that portal meets it. */
export type Ahead = { readonly decision: Decision; readonly distanceM: number; readonly reachShare: number };

/** Prepares what a driver may choose at the decision points underground; restricted bores are no choice. */
export function makeTurns(network: ComplexNetwork): Turns {
  const driven = listDrivenArcs(network);
  const { links, next } = driven;
  const index = new Map<LinkId, number>(links.map((link, i) => [link.id, i]));
  const arcOf = ({ linkId, against }: Sister): ArcNumber => {
    const link = index.get(linkId);
    return link === undefined ? -1 : 2 * link + Number(against);
  };
  const decisions = new Map<string, Decision>();
  for (const decision of network.complex.diverges) {
    for (const arc of listApproaches(driven, decision)) decisions.set(`${decision.osmNode} ${arc}`, decision);
  }
  return {
    findDecision: (step, endNode) => decisions.get(`${endNode} ${arcOf(step)}`),
    listSisters: (step, taken) =>
      (next[arcOf(step)] ?? [])
        .filter((arc) => arc !== arcOf(taken))
        .map((arc) => ({ linkId: (links[arc >> 1] as { id: LinkId }).id, against: arc % 2 === 1 })),
  };
}

/** The decision points in the open air after a route's exit portal, the nearest first. */
export function listAhead(
  { complex }: Pick<ComplexNetwork, 'complex'>,
  { exitNode }: Route,
): readonly Ahead[] {
  return complex.decisionsAfterPortal
    .flatMap((decision): Ahead[] => {
      const { portalNode, distanceFromPortalM: distanceM, reachShare = 1, alsoFrom = [] } = decision;
      if (portalNode === undefined || distanceM === undefined) return [];
      return [{ portalNode, distanceM, reachShare }, ...alsoFrom]
        .filter((from) => from.portalNode === exitNode)
        .map((from) => ({ decision, distanceM: from.distanceM, reachShare: from.reachShare }));
    })
    .sort((a, b) => a.distanceM - b.distanceM || a.decision.osmNode - b.decision.osmNode);
}

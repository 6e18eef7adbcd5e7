import type { LineAddress } from '../alignment/line-address.ts';
import type { Decision } from '../network/network.ts';
import { type ArcNumber, listApproaches } from '../placement/driven-arcs.ts';
import { type BoreGraph, boreOf, listArcs } from './bore-graph.ts';

/** An arc that leads to a decision point, or one of the ways on from it. */
export type AtDecision = { readonly decision: Decision; readonly arc: ArcNumber };

/** The arcs that arrive at decision points and let the driver choose. */
export function listApproaching(graph: BoreGraph, decisions: readonly Decision[]): readonly AtDecision[] {
  const driven = { links: graph.bores, arcs: listArcs(graph.bores), next: graph.next };
  return decisions.flatMap((decision) => listApproaches(driven, decision).map((arc) => ({ decision, arc })));
}

/** The arcs that a driver may choose underground, each once. */
export function listBranches(graph: BoreGraph, decisions: readonly Decision[]): readonly AtDecision[] {
  return decisions.flatMap((decision) => {
    const arcs = listApproaching(graph, [decision]).flatMap(({ arc }) => graph.next[arc] ?? []);
    return [...new Set(arcs)].sort((a, b) => a - b).map((arc) => ({ decision, arc }));
  });
}

/** Where an arc ends, as a place on its bore. */
export function endOfArc(graph: BoreGraph, arc: ArcNumber): LineAddress {
  const bore = boreOf(graph, arc);
  return { linkId: bore.id, chainageM: arc % 2 === 0 ? bore.lengthM : 0 };
}

/** Where an arc begins, as a place on its bore. */
export function startOfArc(graph: BoreGraph, arc: ArcNumber): LineAddress {
  return endOfArc(graph, arc ^ 1);
}

import type { LineAddress } from '../alignment/line-address.ts';
import type { Decision } from '../network/network.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type BoreGraph, boreOf, endsOf, listArcs } from './bore-graph.ts';

/** An arc that leads to a decision point, or one of the ways on from it. */
export type AtDecision = { readonly decision: Decision; readonly arc: ArcNumber };

/** The arcs that arrive at a decision point and let the driver choose. */
export function listApproaches(graph: BoreGraph, decisions: readonly Decision[]): readonly AtDecision[] {
  const arcs = listArcs(graph.bores);
  return decisions.flatMap((decision) =>
    arcs
      .filter((arc) => endsOf(graph, arc).end === decision.osmNode && isChoice(graph, arc, decision))
      .map((arc) => ({ decision, arc })),
  );
}

/** The arcs that a driver may choose underground, each once. */
export function listBranches(graph: BoreGraph, decisions: readonly Decision[]): readonly AtDecision[] {
  return decisions.flatMap((decision) => {
    const arcs = listApproaches(graph, [decision]).flatMap(({ arc }) => graph.next[arc] ?? []);
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

/** At a fork at the mouth one of the ways to go may run in the open air. */
function isChoice(graph: BoreGraph, arc: ArcNumber, decision: Decision): boolean {
  const inside = graph.next[arc]?.length ?? 0;
  return inside > 1 || (inside === 1 && !decision.inside);
}

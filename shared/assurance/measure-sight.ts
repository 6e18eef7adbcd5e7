import type { Decision } from '../network/network.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import type { Rules } from '../placement/rules.ts';
import { listSightInside, sightDistanceM } from '../placement/sight-distance.ts';
import { type BoreGraph, boreOf, endsOf, listArcs, listBefore } from './bore-graph.ts';
import { endOfArc, listApproaching } from './list-branches.ts';
import type { Measured } from './make-check.ts';

/** Rounding that must not leave out a beacon at the very edge of the sight distance, metres. */
const SLACK_M = 1e-6;

/** The decision points of a complex: underground, and those after a portal that satellites do not help with yet. */
export type Decisions = {
  readonly underground: readonly Decision[];
  readonly afterPortal: readonly Decision[];
};

/**
 * For each approach to a decision point: how many beacons stand inside the decision sight distance before it. The one
 * at a point underground is left out, because it comes too late. After a portal, only what is left of the distance lies
 * inside the bore, and the beacon at that portal counts. Where an approach has several ways to it, the least. An entry
 * portal inside the distance counts as one: satellites give a fix there.
 */
export function listSightCounts(
  graph: BoreGraph,
  { underground, afterPortal }: Decisions,
  rules: Rules,
): readonly Measured[] {
  const countBack = makeCounter(graph);
  const before = listApproaching(graph, underground).map(({ decision, arc }) => ({
    found: countBack(arc, sightDistanceM(decision.speedMps, rules.decisionTimeS), [arc]),
    at: endOfArc(graph, arc),
  }));
  const arcs = listArcs(graph.bores);
  const after = afterPortal.flatMap((decision) =>
    listSightInside(decision, rules).flatMap(({ portalNode, insideM }) => {
      const atPortal = graph.atNode.get(portalNode)?.length ?? 0;
      return arcs
        .filter((arc) => endsOf(graph, arc).end === portalNode)
        .map((arc) => ({ found: atPortal + countBack(arc, insideM, [arc]), at: endOfArc(graph, arc) }));
    }),
  );
  return [...before, ...after];
}

/** Makes the function that counts the beacons on the last metres of an arc and of what leads to it, its end left out. */
function makeCounter(graph: BoreGraph) {
  const before = listBefore(graph);
  const countBack = (arc: ArcNumber, leftM: number, seen: readonly ArcNumber[]): number => {
    const bore = boreOf(graph, arc);
    const leftOf = (chainageM: number) => (arc % 2 === 0 ? bore.lengthM - chainageM : chainageM);
    const places = bore.places.filter(({ chainageM }) => leftOf(chainageM) <= leftM + SLACK_M);
    if (bore.lengthM > leftM + SLACK_M) return places.length;
    const { start } = endsOf(graph, arc);
    const own = places.length + (graph.atNode.get(start)?.length ?? 0);
    const sources = (before[arc] ?? []).filter((one) => !seen.includes(one));
    if (graph.open.has(start)) return Math.max(own, places.length + 1);
    if (sources.length === 0) return own;
    return own + Math.min(...sources.map((one) => countBack(one, leftM - bore.lengthM, [...seen, one])));
  };
  return countBack;
}

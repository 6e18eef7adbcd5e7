import type { Decision } from '../network/network.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import type { Rules } from '../placement/rules.ts';
import { listSightInside, sightDistanceM } from '../placement/sight-distance.ts';
import { findSightRoomM } from '../placement/sight-room.ts';
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
 * portal inside the distance counts as one: satellites give a fix there; where it leaves no room, nothing is asked.
 */
export function listSightCounts(
  graph: BoreGraph,
  { underground, afterPortal }: Decisions,
  rules: Rules,
): readonly Measured[] {
  const countBack = makeCounter(graph);
  const walked = { links: graph.bores, before: listBefore(graph), open: graph.open };
  const isAsked = (arc: ArcNumber, sightM: number, isAtPortal: boolean) =>
    findSightRoomM(walked, arc, sightM, rules, isAtPortal) !== undefined;
  const before = listApproaching(graph, underground).flatMap(({ decision, arc }) => {
    const sightM = sightDistanceM(decision.speedMps, rules.decisionTimeS);
    if (!isAsked(arc, sightM, false)) return [];
    return [{ found: countBack(arc, sightM), at: endOfArc(graph, arc) }];
  });
  const arcs = listArcs(graph.bores);
  const after = afterPortal.flatMap((decision) =>
    listSightInside(decision, rules).flatMap(({ portalNode, insideM }) => {
      const atPortal = graph.atNode.get(portalNode)?.length ?? 0;
      return arcs
        .filter((arc) => endsOf(graph, arc).end === portalNode && isAsked(arc, insideM, true))
        .map((arc) => ({ found: atPortal + countBack(arc, insideM), at: endOfArc(graph, arc) }));
    }),
  );
  return [...before, ...after];
}

/** A way back from a decision point: the arc that it has come to, metres to the end of it, and the beacons met so far. */
type WayBack = { readonly arc: ArcNumber; readonly backM: number; readonly met: number };

/**
 * Makes the function that counts the beacons on the last metres of an arc and of what leads to it, its end left out: on
 * the way that has the fewest. Of two ways to an arc that met as many only the longer one is followed, for the ways
 * through a mesh are without number.
 */
function makeCounter(graph: BoreGraph) {
  const before = listBefore(graph);
  return (first: ArcNumber, withinM: number): number => {
    const open: WayBack[] = [{ arc: first, backM: 0, met: 0 }];
    const farthest = new Map<ArcNumber, number>();
    let fewest = Number.POSITIVE_INFINITY;
    for (let way = open.pop(); way !== undefined && way.met < fewest; way = open.pop()) {
      if (way.backM <= (farthest.get(way.arc) ?? -1)) continue;
      farthest.set(way.arc, way.backM);
      const { met, isEnd } = passBack(graph, way, withinM);
      const sources = isEnd ? [] : (before[way.arc] ?? []).filter((one) => one !== first);
      if (sources.length === 0) fewest = Math.min(fewest, met);
      const backM = way.backM + boreOf(graph, way.arc).lengthM;
      for (const arc of sources) open.push({ arc, backM, met });
      open.sort((a, b) => b.met - a.met || a.backM - b.backM);
    }
    return fewest;
  };
}

/** The beacons met once an arc is passed back to its start, and whether no more of the way counts. */
function passBack(graph: BoreGraph, { arc, backM, met }: WayBack, withinM: number) {
  const { lengthM, places } = boreOf(graph, arc);
  const leftM = withinM - backM + SLACK_M;
  const leftOf = (chainageM: number) => (arc % 2 === 0 ? lengthM - chainageM : chainageM);
  const own = met + places.filter(({ chainageM }) => leftOf(chainageM) <= leftM).length;
  if (lengthM > leftM) return { met: own, isEnd: true };
  const { start } = endsOf(graph, arc);
  const atStart = graph.atNode.get(start)?.length ?? 0;
  const isOpen = graph.open.has(start);
  return { met: own + (isOpen ? Math.max(1, atStart) : atStart), isEnd: isOpen };
}

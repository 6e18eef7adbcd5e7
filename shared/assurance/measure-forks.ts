import type { Decision } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import {
  type ArcNumber,
  type Bore,
  type BoreGraph,
  boreOf,
  endsOf,
  listArcs,
  listBefore,
} from './bore-graph.ts';
import type { Stop } from './list-stops.ts';
import type { Measured } from './make-check.ts';
import { decisionSightM } from './sight-distance.ts';

/**
 * For each approach to a decision point underground: how many beacons stand inside the decision sight distance before
 * it, the one at the point itself left out (it comes too late). Where an approach has several ways to it, the least.
 * A portal inside the distance counts as one: satellites give a fix there.
 */
export function listSightCounts(graph: BoreGraph, decisions: readonly Decision[]): readonly Measured[] {
  const before = listBefore(graph);
  const countBack = (arc: ArcNumber, leftM: number, seen: readonly ArcNumber[]): number => {
    const bore = boreOf(graph, arc);
    const places = bore.places.filter(({ chainageM }) => leftOf(bore, arc, chainageM) <= leftM);
    if (bore.lengthM > leftM) return places.length;
    const { start } = endsOf(graph, arc);
    const own = places.length + (graph.atNode.get(start)?.length ?? 0);
    const sources = (before[arc] ?? []).filter((one) => !seen.includes(one));
    if (graph.open.has(start)) return Math.max(own, places.length + 1);
    if (sources.length === 0) return own;
    return own + Math.min(...sources.map((one) => countBack(one, leftM - bore.lengthM, [...seen, one])));
  };
  return listApproaches(graph, decisions).map(({ decision, arc }) => ({
    found: countBack(arc, decisionSightM(decision.speedMps), [arc]),
    at: endOfArc(graph, arc),
  }));
}

/** For each branch underground: metres from the split to the first beacon past it, or to the portal if that is nearer. */
export function listConfirmations(
  graph: BoreGraph,
  decisions: readonly Decision[],
  stops: readonly Stop[],
): readonly Measured[] {
  return listBranches(graph, decisions).map(({ arc }) => {
    const first = firstOnBranch(graph, arc, stops);
    const beaconId = first.stop?.beaconIds[0];
    return {
      found: first.distanceM,
      at: first.stop?.at ?? startOfArc(graph, arc),
      ...(beaconId === undefined ? {} : { beaconId }),
    };
  });
}

/**
 * For each branch: along how many metres of a sister branch the beacon that confirms it is heard before the sister's
 * own first beacon: a driver there would be told the wrong branch.
 */
export function listAmbiguities(
  graph: BoreGraph,
  decisions: readonly Decision[],
  stops: readonly Stop[],
  coverage: Design['coverage'],
): readonly Measured[] {
  const heard = new Map(coverage.map(({ beaconId, stretches }) => [beaconId, stretches]));
  const branches = listBranches(graph, decisions);
  return branches.flatMap(({ decision, arc }) => {
    const own = firstOnBranch(graph, arc, stops).stop;
    const beaconId = own?.beaconIds[0];
    if (own === undefined || beaconId === undefined) return [];
    return branches
      .filter((other) => other.decision === decision && other.arc !== arc)
      .map(({ arc: sister }) => {
        const bore = boreOf(graph, sister);
        const untilM = Math.min(bore.lengthM, firstOnBranch(graph, sister, stops).distanceM);
        const found = (heard.get(beaconId) ?? [])
          .filter(({ linkId }) => linkId === bore.id)
          .reduce((sum, { fromM, toM }) => {
            const [a, b] = sister % 2 === 0 ? [fromM, toM] : [bore.lengthM - toM, bore.lengthM - fromM];
            return sum + Math.max(0, Math.min(untilM, b) - a);
          }, 0);
        return { found, at: own.at, beaconId };
      });
  });
}

/** The arcs that arrive at a decision point and let the driver choose. */
function listApproaches(graph: BoreGraph, decisions: readonly Decision[]) {
  const arcs = listArcs(graph.bores);
  return decisions.flatMap((decision) =>
    arcs
      .filter((arc) => endsOf(graph, arc).end === decision.osmNode && isChoice(graph, arc, decision))
      .map((arc) => ({ decision, arc })),
  );
}

/** At a fork at the mouth one of the ways to go may run in the open air. */
function isChoice(graph: BoreGraph, arc: ArcNumber, decision: Decision): boolean {
  const inside = graph.next[arc]?.length ?? 0;
  return inside > 1 || (inside === 1 && !decision.inside);
}

function listBranches(graph: BoreGraph, decisions: readonly Decision[]) {
  return decisions.flatMap((decision) => {
    const arcs = listApproaches(graph, [decision]).flatMap(({ arc }) => graph.next[arc] ?? []);
    return [...new Set(arcs)].sort((a, b) => a - b).map((arc) => ({ decision, arc }));
  });
}

type First = { readonly stop: Stop | undefined; readonly distanceM: number };

/** The first stop along a branch past its split; where it forks again without one, the farthest of those beyond. */
function firstOnBranch(
  graph: BoreGraph,
  arc: ArcNumber,
  stops: readonly Stop[],
  seen: readonly ArcNumber[] = [],
): First {
  const stop = stops.find((one) => one.arc === arc && one.alongM > 0);
  if (stop !== undefined) return { stop, distanceM: stop.alongM };
  const { lengthM } = boreOf(graph, arc);
  return (graph.next[arc] ?? [])
    .filter((to) => !seen.includes(to))
    .map((to) => firstOnBranch(graph, to, stops, [...seen, arc]))
    .map((first): First => ({ ...first, distanceM: lengthM + first.distanceM }))
    .reduce((most, one) => (one.distanceM > most.distanceM ? one : most), {
      stop: undefined,
      distanceM: lengthM,
    });
}

/** Metres from a place to the end of the arc. */
function leftOf(bore: Bore, arc: ArcNumber, chainageM: number): number {
  return arc % 2 === 0 ? bore.lengthM - chainageM : chainageM;
}

function endOfArc(graph: BoreGraph, arc: ArcNumber) {
  const bore = boreOf(graph, arc);
  return { linkId: bore.id, chainageM: arc % 2 === 0 ? bore.lengthM : 0 };
}

function startOfArc(graph: BoreGraph, arc: ArcNumber) {
  return endOfArc(graph, arc ^ 1);
}

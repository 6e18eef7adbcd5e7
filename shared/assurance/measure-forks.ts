import type { Decision } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type BoreGraph, boreOf } from './bore-graph.ts';
import { listBranches, startOfArc } from './list-branches.ts';
import type { Stop } from './list-stops.ts';
import type { Measured } from './make-check.ts';
import { makeGoOn } from './make-go-on.ts';

/** For each branch underground: metres from the split to the first beacon past it, or to the portal if that is nearer. */
export function listConfirmations(
  graph: BoreGraph,
  decisions: readonly Decision[],
  stops: readonly Stop[],
): readonly Measured[] {
  const firstOn = makeFinder(graph, stops);
  return listBranches(graph, decisions).map(({ arc }) => {
    const first = firstOn(arc);
    const beaconId = first.stop?.beaconIds[0];
    return {
      found: first.distanceM,
      at: first.stop?.at ?? startOfArc(graph, arc),
      ...(beaconId === undefined ? {} : { beaconId }),
    };
  });
}

/**
 * For each branch: along how many metres of a sister branch a beacon that confirms it is heard before the sister's
 * own first beacon: a driver there would be told the wrong branch.
 */
export function listAmbiguities(
  graph: BoreGraph,
  decisions: readonly Decision[],
  stops: readonly Stop[],
  coverage: Design['coverage'],
): readonly Measured[] {
  const heard = new Map(coverage.map(({ beaconId, stretches }) => [beaconId, stretches]));
  const firstOn = makeFinder(graph, stops);
  const branches = listBranches(graph, decisions);
  return branches.flatMap(({ decision, arc }) => {
    const own = firstOn(arc).stop;
    if (own === undefined) return [];
    const sisters = branches.filter((other) => other.decision === decision && other.arc !== arc);
    return own.beaconIds.flatMap((beaconId) =>
      sisters.map(({ arc: sister }) => {
        const bore = boreOf(graph, sister);
        const untilM = Math.min(bore.lengthM, firstOn(sister).distanceM);
        const found = (heard.get(beaconId) ?? [])
          .filter(({ linkId }) => linkId === bore.id)
          .reduce((sum, { fromM, toM }) => {
            const [a, b] = sister % 2 === 0 ? [fromM, toM] : [bore.lengthM - toM, bore.lengthM - fromM];
            return sum + Math.max(0, Math.min(untilM, b) - a);
          }, 0);
        return { found, at: own.at, beaconId };
      }),
    );
  });
}

type First = { readonly stop: Stop | undefined; readonly distanceM: number };

/**
 * Makes the function that gives the first stop along a branch past its split; where it forks again without one, the
 * farthest of those beyond.
 */
function makeFinder(graph: BoreGraph, stops: readonly Stop[]): (arc: ArcNumber) => First {
  const firstStops = new Map<ArcNumber, Stop>();
  for (const stop of stops) {
    if (stop.alongM > 0 && !firstStops.has(stop.arc)) firstStops.set(stop.arc, stop);
  }
  const find = (arc: ArcNumber, seen: ReadonlySet<ArcNumber>, goOn: ReturnType<typeof makeGoOn>): First => {
    const stop = firstStops.get(arc);
    if (stop !== undefined) return { stop, distanceM: stop.alongM };
    const { lengthM } = boreOf(graph, arc);
    return (graph.next[arc] ?? [])
      .filter((to) => goOn(to, seen))
      .map((to) => find(to, new Set([...seen, to]), goOn))
      .map((first): First => ({ ...first, distanceM: lengthM + first.distanceM }))
      .reduce((most, one) => (one.distanceM > most.distanceM ? one : most), {
        stop: undefined,
        distanceM: lengthM,
      });
  };
  return (arc) => find(arc, new Set([arc]), makeGoOn());
}

import type { LineAddress } from '../alignment/line-address.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type Bore, type BoreGraph, boreOf, endsOf, listArcs, listBefore } from './bore-graph.ts';
import { makeGoOn } from './make-go-on.ts';

/** What gives a driver a fix on one arc: beacons at one place, or, without any, the open air. */
export type Stop = {
  /** Empty in the open air. */
  readonly beaconIds: readonly BeaconId[];
  readonly arc: ArcNumber;
  readonly alongM: number;
  readonly at: LineAddress;
  /** The drives from the stop before and to the next one, nothing between. */
  readonly before: Step[];
  readonly after: Step[];
};

export type Step = { readonly from: Stop; readonly to: Stop; readonly distanceM: number };

/** Beacons nearer to each other stand at one place, metres. */
const SAME_M = 1e-3;

/** Lists the places where drivers get a fix, linked in the order in which they are met; one per arc that meets them. */
export function listStops(graph: BoreGraph): readonly Stop[] {
  const before = listBefore(graph);
  const arcs = listArcs(graph.bores);
  const onArc = new Map(arcs.map((arc) => [arc, listOnArc(graph, arc, before[arc]?.length === 0)]));
  for (const [arc, stops] of onArc) {
    stops.slice(1).forEach((to, i) => {
      const from = stops[i] as Stop;
      connect(from, to, to.alongM - from.alongM);
    });
    const last = stops.at(-1);
    if (last === undefined || isEnd(graph, arc)) continue;
    const leftM = boreOf(graph, arc).lengthM - last.alongM;
    for (const found of findFirst(graph, onArc, arc, leftM)) {
      connect(last, found.stop, found.distanceM);
    }
  }
  return [...onArc.values()].flat();
}

function connect(from: Stop, to: Stop, distanceM: number): void {
  const step = { from, to, distanceM };
  from.after.push(step);
  to.before.push(step);
}

function listOnArc(graph: BoreGraph, arc: ArcNumber, isFirst: boolean): Stop[] {
  const bore = boreOf(graph, arc);
  const { start, end } = endsOf(graph, arc);
  const isAgainst = arc % 2 === 1;
  const stop = (alongM: number, beaconIds: readonly BeaconId[]): Stop => ({
    beaconIds,
    arc,
    alongM,
    at: { linkId: bore.id, chainageM: isAgainst ? bore.lengthM - alongM : alongM },
    before: [],
    after: [],
  });
  const places = groupPlaces(bore.places);
  if (isAgainst) places.reverse();
  const atEnd = graph.atNode.get(end);
  return [
    ...(isFirst || graph.open.has(start) ? [stop(0, [])] : []),
    ...places.map(({ chainageM, beaconIds }) =>
      stop(isAgainst ? bore.lengthM - chainageM : chainageM, beaconIds),
    ),
    ...(isEnd(graph, arc) ? [stop(bore.lengthM, [])] : atEnd ? [stop(bore.lengthM, atEnd)] : []),
  ];
}

/** Beacons opposite each other, on both walls, are one place: where one of them fails, the other still gives the fix. */
function groupPlaces(places: Bore['places']) {
  const groups: { readonly chainageM: number; readonly beaconIds: BeaconId[] }[] = [];
  for (const { chainageM, beaconId } of places) {
    const last = groups.at(-1);
    if (last !== undefined && chainageM - last.chainageM <= SAME_M) last.beaconIds.push(beaconId);
    else groups.push({ chainageM, beaconIds: [beaconId] });
  }
  return groups;
}

/** Whether driving underground ends with this arc. */
function isEnd(graph: BoreGraph, arc: ArcNumber): boolean {
  return graph.open.has(endsOf(graph, arc).end) || graph.next[arc]?.length === 0;
}

type Found = { readonly stop: Stop; readonly distanceM: number };

/** The first stops past the end of an arc, on every way on; a ring without any is gone round once. */
function findFirst(
  graph: BoreGraph,
  onArc: ReadonlyMap<ArcNumber, readonly Stop[]>,
  from: ArcNumber,
  leftM: number,
): readonly Found[] {
  const goOn = makeGoOn();
  const find = (arc: ArcNumber, drivenM: number, seen: ReadonlySet<ArcNumber>): readonly Found[] =>
    (graph.next[arc] ?? []).flatMap((to) => {
      if (!goOn(to, seen)) return [];
      const first = onArc.get(to)?.[0];
      if (first !== undefined) return [{ stop: first, distanceM: drivenM + first.alongM }];
      return find(to, drivenM + boreOf(graph, to).lengthM, new Set([...seen, to]));
    });
  return find(from, leftM, new Set());
}

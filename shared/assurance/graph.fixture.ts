import type { LinkId } from '../network/network.ts';
import type { BeaconId } from '../placement/beacon.ts';
import { type Bore, type BoreGraph, endsOf, listArcs } from './bore-graph.ts';

/** A bore in a drawing: its ends, its length and where beacons stand between them. */
export type Drawn = {
  readonly ends: readonly [number, number];
  readonly lengthM: number;
  readonly at?: readonly number[];
  readonly twoWay?: boolean;
};

/** A graph where every turn that the one-way rules allow is legal; nodes with one bore are open, and `open`. */
export function drawGraph(
  drawn: readonly Drawn[],
  nodeBeacons: readonly number[] = [],
  open: readonly number[] = [],
): BoreGraph {
  const bores = drawn.map(({ ends, lengthM, at = [], twoWay = false }, i): Bore => {
    const id = `b${i}` as LinkId;
    const places = at.map((chainageM, k) => ({ chainageM, beaconId: `${id}.${k}` as BeaconId }));
    return { id, fromNode: ends[0], toNode: ends[1], lengthM, along: true, against: twoWay, places };
  });
  const arcs = listArcs(bores);
  const counts = new Map<number, number>();
  for (const node of drawn.flatMap(({ ends }) => ends)) counts.set(node, (counts.get(node) ?? 0) + 1);
  return {
    bores,
    atNode: new Map(nodeBeacons.map((node) => [node, [`n${node}` as BeaconId]])),
    open: new Set([...[...counts].filter(([, count]) => count === 1).map(([node]) => node), ...open]),
    next: bores
      .flatMap((_, i) => [2 * i, 2 * i + 1])
      .map((arc) =>
        arcs.filter(
          (to) =>
            arcs.includes(arc) &&
            to >> 1 !== arc >> 1 &&
            endsOf({ bores }, to).start === endsOf({ bores }, arc).end,
        ),
      ),
  };
}

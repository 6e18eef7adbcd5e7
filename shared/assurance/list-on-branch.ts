import type { LineAddress } from '../alignment/line-address.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type BoreGraph, boreOf, endsOf } from './bore-graph.ts';
import type { Branch } from './list-sisters.ts';

/** By beacon: how far along the branch it stands from the node where the branch begins, metres, and where. */
export type OnBranch = ReadonlyMap<
  BeaconId,
  { readonly beaconId: BeaconId; readonly awayM: number; readonly at: LineAddress }
>;

/**
 * Lists the beacons that stand along a branch, within `reachM` of its node, through the forks past it (or the merges
 * before it) as they are driven; those at the node itself belong to all branches and are left out.
 */
export function listOnBranch(
  graph: BoreGraph,
  before: readonly (readonly ArcNumber[])[],
  { arc: first, isToward }: Branch,
  osmNode: number,
  reachM: number,
): OnBranch {
  const found = new Map<BeaconId, { beaconId: BeaconId; awayM: number; at: LineAddress }>();
  const add = (beaconId: BeaconId, awayM: number, at: LineAddress) => {
    const known = found.get(beaconId)?.awayM ?? Number.POSITIVE_INFINITY;
    if (awayM <= reachM && awayM < known) found.set(beaconId, { beaconId, awayM, at });
  };
  const walk = (arc: ArcNumber, drivenM: number, seen: readonly ArcNumber[]): void => {
    const { id, lengthM, places } = boreOf(graph, arc);
    const isFromStart = (arc % 2 === 0) !== isToward;
    for (const { beaconId, chainageM } of places) {
      add(beaconId, drivenM + (isFromStart ? chainageM : lengthM - chainageM), { linkId: id, chainageM });
    }
    const ends = endsOf(graph, arc);
    const far = isToward ? ends.start : ends.end;
    const farM = drivenM + lengthM;
    if (far === osmNode || farM > reachM) return;
    const at = { linkId: id, chainageM: isFromStart ? lengthM : 0 };
    for (const beaconId of graph.atNode.get(far) ?? []) add(beaconId, farM, at);
    if (graph.open.has(far)) return;
    for (const on of (isToward ? before[arc] : graph.next[arc]) ?? []) {
      if (!seen.includes(on)) walk(on, farM, [...seen, on]);
    }
  };
  walk(first, 0, [first]);
  return found;
}

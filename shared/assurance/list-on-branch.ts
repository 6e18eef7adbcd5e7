import type { LineAddress } from '../alignment/line-address.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type BoreGraph, boreOf, endsOf } from './bore-graph.ts';
import type { Branch } from './list-sisters.ts';

/** A beacon along a branch. */
export type BranchBeacon = {
  readonly beaconId: BeaconId;
  /** Metres from the node where the branch begins. */
  readonly awayM: number;
  readonly at: LineAddress;
  /** It stands between the ends of the branch's first bore. */
  readonly isOnFirst: boolean;
};

export type OnBranch = ReadonlyMap<BeaconId, BranchBeacon>;

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
  const found = new Map<BeaconId, BranchBeacon>();
  const add = (beacon: BranchBeacon) => {
    const knownM = found.get(beacon.beaconId)?.awayM ?? Number.POSITIVE_INFINITY;
    if (beacon.awayM <= reachM && beacon.awayM < knownM) found.set(beacon.beaconId, beacon);
  };
  const walk = (arc: ArcNumber, drivenM: number): readonly ArcNumber[] => {
    const { id, lengthM, places } = boreOf(graph, arc);
    const isFromStart = (arc % 2 === 0) !== isToward;
    for (const { beaconId, chainageM } of places) {
      const awayM = drivenM + (isFromStart ? chainageM : lengthM - chainageM);
      add({ beaconId, awayM, at: { linkId: id, chainageM }, isOnFirst: arc === first });
    }
    const ends = endsOf(graph, arc);
    const far = isToward ? ends.start : ends.end;
    const farM = drivenM + lengthM;
    if (far === osmNode || farM > reachM) return [];
    const at = { linkId: id, chainageM: isFromStart ? lengthM : 0 };
    for (const beaconId of graph.atNode.get(far) ?? []) add({ beaconId, awayM: farM, at, isOnFirst: false });
    return graph.open.has(far) ? [] : ((isToward ? before[arc] : graph.next[arc]) ?? []);
  };
  // Each arc once, by the shortest way to it: the ways through a mesh are without number.
  const open = [{ arc: first, drivenM: 0 }];
  const seen = new Set<ArcNumber>();
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    const { arc, drivenM } = one;
    if (seen.has(arc)) continue;
    seen.add(arc);
    const farM = drivenM + boreOf(graph, arc).lengthM;
    for (const on of walk(arc, drivenM)) if (!seen.has(on)) open.push({ arc: on, drivenM: farM });
    open.sort((a, b) => b.drivenM - a.drivenM);
  }
  return found;
}

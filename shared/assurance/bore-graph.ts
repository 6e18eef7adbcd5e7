import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { Beacon, BeaconId } from '../placement/beacon.ts';
import { type ArcNumber, endsOfArc, listDrivenArcs } from '../placement/driven-arcs.ts';
import { findEndNode } from '../placement/list-places.ts';

/** A bore with the beacons between its ends, by chainage; those at its ends stand at the graph's nodes. */
export type Bore = {
  readonly id: LinkId;
  readonly fromNode: number;
  readonly toNode: number;
  readonly lengthM: number;
  /** Whether vehicles drive along the chainage, and against it. */
  readonly along: boolean;
  readonly against: boolean;
  readonly places: readonly { readonly chainageM: number; readonly beaconId: BeaconId }[];
};

/** The bores of a complex as drivers meet the beacons: along legal ways, across the nodes where bores join. */
export type BoreGraph = {
  readonly bores: readonly Bore[];
  readonly atNode: ReadonlyMap<number, readonly BeaconId[]>;
  /** Nodes in the open air: satellites give a fix there, whatever fails below. */
  readonly open: ReadonlySet<number>;
  /** By arc: the arcs that a driver may go on to without leaving the tunnel. */
  readonly next: readonly (readonly ArcNumber[])[];
};

/** Builds the graph of the bores that are designed: all but the restricted ones. */
export function buildBoreGraph(network: ComplexNetwork, beacons: readonly Beacon[]): BoreGraph {
  const { links, open, next } = listDrivenArcs(network);
  const own = new Map<LinkId, Beacon[]>(links.map((link) => [link.id, []]));
  // In the order of their ids: what stands at one place must not depend on the order that they came in.
  for (const beacon of [...beacons].sort((a, b) => byText(a.id, b.id)))
    own.get(beacon.at.linkId)?.push(beacon);
  const atNode = new Map<number, BeaconId[]>();
  const bores = links.map((link) => toBore(link, own.get(link.id) ?? [], atNode));
  return { bores, atNode, open, next };
}

/** The bore that an arc drives. */
export function boreOf({ bores }: Pick<BoreGraph, 'bores'>, arc: ArcNumber): Bore {
  return bores[arc >> 1] as Bore;
}

/** The nodes where an arc begins and ends. */
export function endsOf(graph: Pick<BoreGraph, 'bores'>, arc: ArcNumber): { start: number; end: number } {
  return endsOfArc(graph.bores, arc);
}

/** The arcs that vehicles drive. */
export function listArcs(bores: readonly Bore[]): readonly ArcNumber[] {
  return bores.flatMap((bore, i) => [...(bore.along ? [2 * i] : []), ...(bore.against ? [2 * i + 1] : [])]);
}

/** By arc: the arcs that lead to it. */
export function listBefore({ next }: BoreGraph): readonly (readonly ArcNumber[])[] {
  const before: ArcNumber[][] = next.map(() => []);
  next.forEach((arcs, from) => {
    for (const to of arcs) before[to]?.push(from);
  });
  return before;
}

function toBore(link: Link, beacons: readonly Beacon[], atNode: Map<number, BeaconId[]>): Bore {
  const places: { chainageM: number; beaconId: BeaconId }[] = [];
  for (const { id, at } of beacons) {
    const node = findEndNode(link, at.chainageM);
    if (node === undefined) places.push({ chainageM: at.chainageM, beaconId: id });
    else atNode.set(node, [...(atNode.get(node) ?? []), id]);
  }
  return {
    id: link.id,
    fromNode: link.fromNode,
    toNode: link.toNode,
    lengthM: link.lengthM,
    along: true,
    against: link.direction !== 'forward',
    places: places.sort((a, b) => a.chainageM - b.chainageM),
  };
}

import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import type { Beacon, BeaconId } from '../placement/beacon.ts';
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

/** A bore as it is driven: number `2 × bore`, plus one against the chainage. */
export type ArcNumber = number;

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
  const links = network.links.filter((link) => !link.restricted);
  const own = new Map<LinkId, Beacon[]>(links.map((link) => [link.id, []]));
  for (const beacon of beacons) own.get(beacon.at.linkId)?.push(beacon);
  const atNode = new Map<number, BeaconId[]>();
  const bores = links.map((link) => toBore(link, own.get(link.id) ?? [], atNode));
  return {
    bores,
    atNode,
    open: new Set(network.complex.portals.map(({ osmNode }) => osmNode)),
    next: listNext(network, bores),
  };
}

/** The bore that an arc drives. */
export function boreOf({ bores }: Pick<BoreGraph, 'bores'>, arc: ArcNumber): Bore {
  return bores[arc >> 1] as Bore;
}

/** The nodes where an arc begins and ends. */
export function endsOf(graph: Pick<BoreGraph, 'bores'>, arc: ArcNumber): { start: number; end: number } {
  const { fromNode, toNode } = boreOf(graph, arc);
  return arc % 2 === 0 ? { start: fromNode, end: toNode } : { start: toNode, end: fromNode };
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

/** What the listed routes do; an arc that none of them leaves goes on wherever the one-way rules let it. */
function listNext(network: ComplexNetwork, bores: readonly Bore[]): readonly (readonly ArcNumber[])[] {
  const index = new Map(bores.map((bore, i) => [bore.id, i]));
  const next = bores.flatMap(() => [new Set<ArcNumber>(), new Set<ArcNumber>()]);
  for (const { steps } of network.complex.routes) {
    steps.forEach((step, i) => {
      const after = steps[i + 1];
      if (after === undefined || after.opening !== undefined) return;
      const [from, to] = [index.get(step.linkId), index.get(after.linkId)];
      if (from === undefined || to === undefined) return;
      next[2 * from + Number(step.against)]?.add(2 * to + Number(after.against));
    });
  }
  const arcs = listArcs(bores);
  for (const arc of arcs) {
    const ways = next[arc] as Set<ArcNumber>;
    if (ways.size > 0) continue;
    const { end } = endsOf({ bores }, arc);
    for (const to of arcs) {
      if (to >> 1 !== arc >> 1 && endsOf({ bores }, to).start === end) ways.add(to);
    }
  }
  return next.map((ways) => [...ways].sort((a, b) => a - b));
}

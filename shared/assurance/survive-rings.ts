import type { Bore, BoreGraph } from './bore-graph.ts';
import { findExactSurvival, MAX_ROWS } from './survive-exact.ts';

/** More cases than these take longer than trials, which are near enough. */
const MAX_CASES = 60;

/**
 * The chance that no drive goes farther than `limitM` without a fix, exact where bores form rings too: for each ring by
 * the cases which beacon of one of its bores is the first that works. There drivers get a fix whatever else fails, so
 * the ring is open. Undefined where that makes too many cases, where too many states meet, or where a ring stays without
 * a beacon in its bores.
 */
export function findSurvivalByCases(
  graph: BoreGraph,
  failureShare: number,
  limitM: number,
): number | undefined {
  let cases = 0;
  const left = { rows: MAX_ROWS };
  const find = (of: BoreGraph): number | undefined => {
    cases += 1;
    if (cases > MAX_CASES) return undefined;
    const exact = findExactSurvival(of, failureShare, limitM, left);
    if (exact !== undefined || left.rows < 0) return exact;
    const ring = findRingBore(of);
    const { places, lengthM } = of.bores[ring] as Bore;
    if (places.length === 0) return undefined;
    let [held, allFail] = [0, 1];
    for (const [i, { chainageM }] of places.entries()) {
      // As far as that without a fix already.
      if (chainageM > limitM) return held;
      const share = find(cutAt(of, ring, i));
      if (share === undefined) return undefined;
      held += allFail * (1 - failureShare) * share;
      allFail *= failureShare;
    }
    if (allFail === 0 || lengthM > limitM) return held;
    const share = find(withBore(of, ring, { ...(of.bores[ring] as Bore), places: [] }));
    return share === undefined ? undefined : held + allFail * share;
  };
  return find(graph);
}

/** A bore that closes a ring; of those that could, one with many beacons, since it is cut best. Throws without a ring. */
function findRingBore({ bores, open }: BoreGraph): number {
  const parents = new Map<string, string>();
  const rootOf = (joint: string): string => {
    const parent = parents.get(joint);
    return parent === undefined ? joint : rootOf(parent);
  };
  let closing: number | undefined;
  const fewestFirst = [...bores.keys()].sort((a, b) => count(bores, a) - count(bores, b) || a - b);
  for (const i of fewestFirst) {
    const { fromNode, toNode } = bores[i] as Bore;
    // In the open air every end is for itself.
    const from = rootOf(open.has(fromNode) ? `${i} from` : `${fromNode}`);
    const to = rootOf(open.has(toNode) ? `${i} to` : `${toNode}`);
    if (from === to) closing = i;
    else parents.set(from, to);
  }
  if (closing === undefined) throw new Error('no bores form a ring');
  return closing;
}

function count(bores: BoreGraph['bores'], i: number): number {
  return bores[i]?.places.length ?? 0;
}

function withBore(graph: BoreGraph, index: number, bore: Bore): BoreGraph {
  return { ...graph, bores: graph.bores.map((one, i) => (i === index ? bore : one)) };
}

/**
 * The graph where the beacon number `place` of a bore works and those before it have failed: the bore ends there, in a
 * fix as good as the open air, and another bore leads on from it.
 */
function cutAt(graph: BoreGraph, index: number, place: number): BoreGraph {
  const bore = graph.bores[index] as Bore;
  const atM = bore.places[place]?.chainageM ?? 0;
  const added = graph.bores.length;
  // Node ids are whole numbers: this is none of them.
  const node = added + 0.5;
  const rest: Bore = {
    ...bore,
    fromNode: node,
    lengthM: bore.lengthM - atM,
    places: bore.places.slice(place + 1).map((one) => ({ ...one, chainageM: one.chainageM - atM })),
  };
  const first: Bore = { ...bore, toNode: node, lengthM: atM, places: [] };
  const [along, against] = [2 * index, 2 * index + 1];
  // Who drove against the chainage comes by the added bore first.
  const next = graph.next.map((ways) => ways.map((to) => (to === against ? 2 * added + 1 : to)));
  const onward = next[along] ?? [];
  next[along] = [];
  return {
    bores: [...withBore(graph, index, first).bores, rest],
    atNode: graph.atNode,
    open: new Set([...graph.open, node]),
    next: [...next, onward, []],
  };
}

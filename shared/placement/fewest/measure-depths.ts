import type { Link } from '../../network/network.ts';
import type { Candidate } from './question.ts';

/** More roots than these rarely find fewer beacons. */
const MAX_ROOTS = 4;

/**
 * How far each candidate is along the bores, in any direction, from a root, metres; once for each of some roots. A root is
 * an end of the network; where parts of it share no node, each has one of its own.
 */
export function measureDepths(
  links: readonly Link[],
  candidates: readonly Candidate[],
): readonly Float64Array[] {
  const atNode = new Map<number, Link[]>();
  for (const link of links) {
    for (const node of [link.fromNode, link.toNode]) atNode.set(node, [...(atNode.get(node) ?? []), link]);
  }
  const parts = listParts(atNode);
  const count = Math.min(MAX_ROOTS, Math.max(1, ...parts.map(({ length }) => length)));
  const index = new Map(links.map((link, i) => [link.id, i]));
  const onLink = candidates.map(({ linkId }) => index.get(linkId) ?? -1);
  return Array.from({ length: count }, (_, turn) => {
    const depth = measureNodes(parts, turn, atNode);
    const ends = links.map(({ fromNode, toNode, lengthM }) => ({
      fromM: depth.get(fromNode) ?? 0,
      toM: (depth.get(toNode) ?? 0) + lengthM,
    }));
    const depths = new Float64Array(candidates.length);
    candidates.forEach(({ chainageM }, i) => {
      const end = ends[onLink[i] ?? -1];
      if (end !== undefined) depths[i] = Math.min(end.fromM + chainageM, end.toM - chainageM);
    });
    return depths;
  });
}

/** The parts of the network that share no node: the ends of each, or any of its nodes where it has none. */
function listParts(atNode: ReadonlyMap<number, readonly Link[]>): readonly (readonly number[])[] {
  const seen = new Set<number>();
  const parts: number[][] = [];
  for (const first of [...atNode.keys()].sort((a, b) => a - b)) {
    if (seen.has(first)) continue;
    const part = [first];
    seen.add(first);
    for (const node of part) {
      for (const { fromNode, toNode } of atNode.get(node) ?? []) {
        const other = fromNode === node ? toNode : fromNode;
        if (!seen.has(other)) part.push(other);
        seen.add(other);
      }
    }
    const ends = part.filter((node) => atNode.get(node)?.length === 1).sort((a, b) => a - b);
    parts.push(ends.length === 0 ? [first] : ends);
  }
  return parts;
}

function measureNodes(
  parts: readonly (readonly number[])[],
  turn: number,
  atNode: ReadonlyMap<number, readonly Link[]>,
): ReadonlyMap<number, number> {
  const depth = new Map<number, number>();
  const open = parts.map((ends) => ({ node: ends[turn % ends.length] as number, depthM: 0 }));
  while (open.length > 0) {
    open.sort((a, b) => b.depthM - a.depthM);
    const { node, depthM } = open.pop() as (typeof open)[number];
    if (depthM >= (depth.get(node) ?? Number.POSITIVE_INFINITY)) continue;
    depth.set(node, depthM);
    for (const { fromNode, toNode, lengthM } of atNode.get(node) ?? []) {
      open.push({ node: fromNode === node ? toNode : fromNode, depthM: depthM + lengthM });
    }
  }
  return depth;
}

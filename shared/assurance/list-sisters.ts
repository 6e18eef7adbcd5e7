import type { ArcNumber } from '../placement/driven-arcs.ts';
import { type BoreGraph, endsOf, listArcs } from './bore-graph.ts';

/** A bore as it leads away from a node: driven away from it past a fork, driven towards it before a merge. */
export type Branch = { readonly arc: ArcNumber; readonly isToward: boolean };

/** Two branches of one fork or of one merge: a driver takes one of them or comes by one of them. */
export type Sisters = { readonly osmNode: number; readonly branches: readonly [Branch, Branch] };

/**
 * Lists the branches that part at a node or join there, two by two. At a mouth drivers choose, or join, in the open
 * air: there all bores that lead in are sisters, and all that lead out.
 */
export function listSisters(graph: BoreGraph, before: readonly (readonly ArcNumber[])[]): readonly Sisters[] {
  const arcs = listArcs(graph.bores);
  const groups = arcs.flatMap((arc): Group[] => {
    const { start, end } = endsOf(graph, arc);
    return [
      ...(graph.open.has(end) ? [] : [{ osmNode: end, arcs: graph.next[arc] ?? [], isToward: false }]),
      ...(graph.open.has(start) ? [] : [{ osmNode: start, arcs: before[arc] ?? [], isToward: true }]),
    ];
  });
  for (const osmNode of graph.open) {
    const from = (node: 'start' | 'end') => arcs.filter((arc) => endsOf(graph, arc)[node] === osmNode);
    groups.push({ osmNode, arcs: from('start'), isToward: false });
    groups.push({ osmNode, arcs: from('end'), isToward: true });
  }
  const listed = new Map<string, Sisters>();
  for (const { osmNode, arcs: own, isToward } of groups) {
    for (const [one, other] of listTwos(own)) {
      const branches = [
        { arc: one, isToward },
        { arc: other, isToward },
      ] as const;
      listed.set(`${osmNode} ${one} ${other} ${isToward}`, { osmNode, branches });
    }
  }
  return [...listed.values()];
}

type Group = {
  readonly osmNode: number;
  readonly arcs: readonly ArcNumber[];
  readonly isToward: boolean;
};

function listTwos(arcs: readonly ArcNumber[]): readonly (readonly [ArcNumber, ArcNumber])[] {
  return arcs.flatMap((one, i) =>
    arcs
      .slice(i + 1)
      // A loop leaves and comes back as one bore.
      .filter((other) => other >> 1 !== one >> 1)
      .map((other) => [one, other] as const),
  );
}

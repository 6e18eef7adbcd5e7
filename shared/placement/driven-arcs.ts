import { MAX_ROUTES } from '../network/list-routes.ts';
import type { ComplexNetwork, Decision, Link, LinkId } from '../network/network.ts';

/** A link as it is driven: number `2 × link`, plus one against the chainage. */
export type ArcNumber = number;

/** The links of a complex as vehicles drive them, without the restricted ones. */
export type DrivenArcs = {
  readonly links: readonly Link[];
  /** Those that vehicles drive. */
  readonly arcs: readonly ArcNumber[];
  /** By arc: the arcs that a driver may go on to without leaving the tunnel, and those that lead to it. */
  readonly next: readonly (readonly ArcNumber[])[];
  readonly before: readonly (readonly ArcNumber[])[];
  /** Nodes in the open air: satellites give a fix there. */
  readonly open: ReadonlySet<number>;
};

/**
 * Lists how the links of a complex are driven: as the listed routes do; an arc that none of them leaves goes on
 * wherever the one-way rules let it, and so does every arc where there are more routes than are listed.
 */
export function listDrivenArcs(network: ComplexNetwork): DrivenArcs {
  const links = network.links.filter((link) => !link.restricted);
  const index = new Map<LinkId, number>(links.map((link, i) => [link.id, i]));
  const next = links.flatMap(() => [new Set<ArcNumber>(), new Set<ArcNumber>()]);
  for (const { steps } of network.complex.routes) {
    steps.forEach((step, i) => {
      const after = steps[i + 1];
      if (after === undefined || after.opening !== undefined) return;
      const [from, to] = [index.get(step.linkId), index.get(after.linkId)];
      if (from === undefined || to === undefined) return;
      next[2 * from + Number(step.against)]?.add(2 * to + Number(after.against));
    });
  }
  const arcs = links.flatMap((link, i) => [2 * i, ...(link.direction === 'forward' ? [] : [2 * i + 1])]);
  addUnlisted(links, arcs, next, network.complex.routes.length >= MAX_ROUTES);
  const before: ArcNumber[][] = next.map(() => []);
  const sorted = next.map((ways) => [...ways].sort((a, b) => a - b));
  sorted.forEach((ways, from) => {
    for (const to of ways) before[to]?.push(from);
  });
  const open = new Set(network.complex.portals.map(({ osmNode }) => osmNode));
  return { links, arcs, next: sorted, before, open };
}

function addUnlisted(
  links: readonly Link[],
  arcs: readonly ArcNumber[],
  next: readonly Set<ArcNumber>[],
  isCut: boolean,
): void {
  for (const arc of arcs) {
    const ways = next[arc] as Set<ArcNumber>;
    if (ways.size > 0 && !isCut) continue;
    const { end } = endsOfArc(links, arc);
    for (const to of arcs) {
      if (to >> 1 !== arc >> 1 && endsOfArc(links, to).start === end) ways.add(to);
    }
  }
}

/** The arcs that arrive at a decision point and let the driver choose. */
export function listApproaches(
  { links, arcs, next }: { readonly links: readonly Ends[] } & Pick<DrivenArcs, 'arcs' | 'next'>,
  { osmNode, inside }: Decision,
): readonly ArcNumber[] {
  return arcs.filter((arc) => {
    if (endsOfArc(links, arc).end !== osmNode) return false;
    // At a fork at the mouth the ways to go may run in the open air, one of them or all.
    return !inside || (next[arc]?.length ?? 0) > 1;
  });
}

/** The arcs that drivers may choose at decision points underground, each once. */
export function listBranches(driven: DrivenArcs, decisions: readonly Decision[]): readonly ArcNumber[] {
  const arcs = decisions.flatMap((decision) =>
    listApproaches(driven, decision).flatMap((arc) => driven.next[arc] ?? []),
  );
  return [...new Set(arcs)].sort((a, b) => a - b);
}

type Ends = Pick<Link, 'fromNode' | 'toNode'>;

/** The nodes where an arc begins and ends. */
export function endsOfArc(links: readonly Ends[], arc: ArcNumber): { start: number; end: number } {
  const { fromNode, toNode } = links[arc >> 1] as Ends;
  return arc % 2 === 0 ? { start: fromNode, end: toNode } : { start: toNode, end: fromNode };
}

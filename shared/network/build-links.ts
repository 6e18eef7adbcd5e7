import type { LonLat } from '../geodesy/lon-lat.ts';
import { segmentLengthM } from '../geodesy/segment.ts';
import { type Finding, finding, type Staged } from '../outcome/finding.ts';
import type { RoadWay } from './classify-ways.ts';
import { describeStretches, summarize } from './describe-stretches.ts';
import type { Link, LinkId, TunnelKind } from './network.ts';
import { farNode, type Half, nodeOf, type RoadGraph, segmentOf, turnAround } from './road-graph.ts';

export type LinkSet = {
  readonly links: readonly Link[];
  /** The link that a segment of a way became part of. */
  findLink(half: Half): Link | undefined;
};

/**
 * Joins the segments of one kind of tunnel to links that end only at nodes that matter: a portal, a fork, a
 * merge, a crossing, or a place where one-way traffic begins or the access changes. Way pieces that were split
 * only by other tag changes are merged.
 */
export function buildLinks(graph: RoadGraph, kind: TunnelKind): Staged<LinkSet> {
  const chains = listChains(graph, kind);
  const links: Link[] = [];
  const findings: Finding[] = [];
  const owner = new Map<RoadWay, (Link | undefined)[]>();
  const taken = new Map<string, number>();
  for (const chain of chains) {
    const oriented = orient(chain);
    const made = makeLink(oriented, kind, taken, graph);
    if (made === undefined) {
      const way = oriented[0]?.way.wayId ?? 0;
      findings.push(
        finding('way-too-short', { kind: 'way', id: String(way) }, { lengthM: 0 }, undefined, 'link'),
      );
      continue;
    }
    links.push(made.link);
    findings.push(...made.findings);
    for (const half of oriented) {
      const segments = owner.get(half.way) ?? [];
      segments[segmentOf(half)] = made.link;
      owner.set(half.way, segments);
    }
  }
  links.sort((a, b) => (a.id < b.id ? -1 : 1));
  return {
    value: { links, findLink: (half) => owner.get(half.way)?.[segmentOf(half)] },
    findings,
  };
}

/** Every segment of the kind once, as chains of halves that follow each other between nodes that matter. */
function listChains(graph: RoadGraph, kind: TunnelKind): Half[][] {
  const ways = graph.underRoof.filter((way) => way.roof === kind);
  const used = new Map<RoadWay, boolean[]>(ways.map((way) => [way, []]));
  const isEnd = (node: number) => matters(graph, kind, node);
  const chains: Half[][] = [];
  const walk = (start: Half) => {
    const chain: Half[] = [];
    let half: Half | undefined = start;
    while (half !== undefined && used.get(half.way)?.[segmentOf(half)] !== true) {
      (used.get(half.way) as boolean[])[segmentOf(half)] = true;
      chain.push(half);
      half = graph.goOn(half) ?? (isEnd(farNode(half)) ? undefined : next(graph, kind, half));
    }
    if (chain.length > 0) chains.push(chain);
  };
  // First from every node that matters, then the rings that have none (a lone roundabout), from their lowest node.
  for (const way of ways) {
    way.nodes.forEach((node, index) => {
      const isBend = index > 0 && graph.goOn({ way, index: index - 1, step: 1 }) !== undefined;
      if (isBend || !isEnd(node)) return;
      if (index < way.nodes.length - 1) walk({ way, index, step: 1 });
      if (index > 0) walk({ way, index, step: -1 });
    });
  }
  const rings = ways.flatMap((way) =>
    way.nodes
      .slice(1)
      .map((_, index): Half => ({ way, index, step: 1 }))
      .filter(({ index }) => used.get(way)?.[index] !== true),
  );
  for (const half of rings.sort((a, b) => nodeOf(a) - nodeOf(b))) walk(half);
  return chains;
}

/** The half that goes on where a link does not end. */
function next(graph: RoadGraph, kind: TunnelKind, half: Half): Half | undefined {
  const back = turnAround(half);
  return graph
    .halvesAt(farNode(half))
    .find(
      (other) =>
        other.way.roof === kind &&
        !(other.way === back.way && other.index === back.index && other.step === back.step),
    );
}

/** Whether a link has to end at this node. */
function matters(graph: RoadGraph, kind: TunnelKind, node: number): boolean {
  const halves = graph.halvesAt(node);
  const [a, b] = halves.filter((half) => half.way.roof === kind);
  if (a === undefined || b === undefined || halves.length !== 2) return true;
  if (a.way.restricted !== b.way.restricted || a.way.direction !== b.way.direction) return true;
  // Two one-way pieces that run against each other do not make one carriageway.
  return a.way.direction === 'forward' && a.step === b.step;
}

/** One-way chains along the traffic; others as the way with the lowest id is drawn. */
function orient(chain: Half[]): Half[] {
  const guide = chain.reduce((low, half) => (half.way.wayId < low.way.wayId ? half : low));
  // Reversed ways have been turned already, so step 1 is the legal direction of a one-way way.
  return guide.step === 1 ? chain : chain.map(turnAround).reverse();
}

function makeLink(
  chain: readonly Half[],
  kind: TunnelKind,
  taken: Map<string, number>,
  graph: RoadGraph,
): { readonly link: Link; readonly findings: readonly Finding[] } | undefined {
  const first = chain[0] as Half;
  const nodes = [nodeOf(first), ...chain.map(farNode)];
  const line: LonLat[] = [first, ...chain.map(turnAround)].map((half) => half.way.line[half.index] as LonLat);
  const vertexM = [0];
  for (let i = 1; i < line.length; i += 1) {
    vertexM.push((vertexM[i - 1] ?? 0) + segmentLengthM(line[i - 1] as LonLat, line[i] as LonLat));
  }
  const lengthM = vertexM.at(-1) ?? 0;
  if (!(lengthM > 0)) return undefined;
  const fromNode = nodes[0] as number;
  const toNode = nodes.at(-1) as number;
  const stretches = describeStretches(chain, vertexM, graph.drivingSide);
  const link: Link = {
    id: makeId(Math.min(...chain.map((half) => half.way.wayId)), fromNode, toNode, taken),
    kind,
    direction: first.way.direction,
    restricted: first.way.restricted,
    fromNode,
    toNode,
    nodes,
    line,
    lengthM,
    stretches: stretches.value,
    ...summarize(stretches.value),
  };
  return { link, findings: stretches.findings };
}

/** The lowest way id and the end nodes name a link; a number follows where two links would share that name. */
function makeId(wayId: number, fromNode: number, toNode: number, taken: Map<string, number>): LinkId {
  const id = `${wayId}-${fromNode}-${toNode}`;
  const before = taken.get(id) ?? 0;
  taken.set(id, before + 1);
  return (before === 0 ? id : `${id}-${before + 1}`) as LinkId;
}

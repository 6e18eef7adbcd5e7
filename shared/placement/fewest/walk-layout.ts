import type { Link } from '../../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc } from '../driven-arcs.ts';
import type { Candidate } from './question.ts';

/** Rounding that must not break a rule, metres. */
export const SLACK_M = 1e-7;

/** The candidates as a driver meets them: along each arc, its ends left out, and at the nodes. */
export type Layout = {
  readonly driven: DrivenArcs;
  /** By arc, in the order in which they are met. */
  readonly onArc: readonly (readonly Spot[])[];
  readonly atNode: ReadonlyMap<number, readonly number[]>;
};
type Spot = { readonly candidate: number; readonly alongM: number };

/** Lays the candidates, which are sorted by chainage, out along the links that are driven. */
export function toLayout(driven: DrivenArcs, candidates: readonly Candidate[]): Layout {
  const index = new Map(driven.links.map((link, i) => [link.id, i]));
  const onLink: Spot[][] = driven.links.map(() => []);
  const atNode = new Map<number, number[]>();
  candidates.forEach(({ linkId, chainageM, node }, candidate) => {
    if (node !== undefined) atNode.set(node, [...(atNode.get(node) ?? []), candidate]);
    else onLink[index.get(linkId) ?? -1]?.push({ candidate, alongM: chainageM });
  });
  const onArc = onLink.flatMap((spots, i) => {
    const { lengthM } = driven.links[i] as Link;
    const against = spots.map(({ candidate, alongM }) => ({ candidate, alongM: lengthM - alongM }));
    return [spots, against.reverse()];
  });
  return { driven, onArc, atNode };
}

/** A place of an arc: metres from its start, and how many of its candidates are not past it. */
export type From = { readonly fromM: number; readonly past: number };
export const START: From = { fromM: 0, past: 0 };

/**
 * So many links are driven from one place, or back to one, at most: the ways through a mesh are without number. Forks are
 * seldom so near to each other; where they are, some ways are not asked for, and the checks tell what that leaves.
 */
const MAX_LINKS = 64;
type Left = { links: number };

/**
 * The candidates within `lengthM` past a place of an arc, its end included, for each way on that stays underground; of
 * very many ways, the first ones.
 */
export function listWindows(
  layout: Layout,
  arc: ArcNumber,
  from: From,
  lengthM: number,
): readonly number[][] {
  const found: number[][] = [];
  drive(layout, arc, from, lengthM + SLACK_M, [], [], found, { links: MAX_LINKS });
  return found.map(sortUnique);
}

function drive(
  layout: Layout,
  arc: ArcNumber,
  { fromM, past }: From,
  leftM: number,
  met: readonly number[],
  seen: readonly ArcNumber[],
  found: number[][],
  left: Left,
): void {
  if (left.links === 0) return;
  left.links -= 1;
  const { driven, onArc, atNode } = layout;
  const own = [...met];
  const spots = onArc[arc] ?? [];
  for (let i = past; i < spots.length; i += 1) {
    const { candidate, alongM } = spots[i] as Spot;
    if (alongM > fromM + leftM) break;
    own.push(candidate);
  }
  const restM = leftM - ((driven.links[arc >> 1] as Link).lengthM - fromM);
  if (restM < 0) {
    found.push(own);
    return;
  }
  const { end } = endsOfArc(driven.links, arc);
  const ways = driven.next[arc] ?? [];
  if (driven.open.has(end) || ways.length === 0) return;
  own.push(...(atNode.get(end) ?? []));
  for (const to of ways) {
    if (seen.includes(to)) found.push(own);
    else drive(layout, to, START, restM, own, [...seen, arc], found, left);
  }
}

/** The first candidates past a place of an arc, on each way on that stays underground. */
export function listNext(
  layout: Layout,
  arc: ArcNumber,
  { past }: From,
  seen = new Set<ArcNumber>(),
): readonly number[] {
  const { driven, onArc, atNode } = layout;
  seen.add(arc);
  const first = onArc[arc]?.[past];
  if (first !== undefined) return [first.candidate];
  const { end } = endsOfArc(driven.links, arc);
  if (driven.open.has(end)) return [];
  const here = atNode.get(end) ?? [];
  if (here.length > 0) return here.slice(0, 1);
  // Each arc once: by which way it is reached does not matter.
  return (driven.next[arc] ?? []).flatMap((to) => (seen.has(to) ? [] : listNext(layout, to, START, seen)));
}

export type WayBack = { readonly of: number[]; readonly isFromOpen: boolean };

/** The candidates within `leftM` before the end of an arc, for each way of arriving; of very many ways, the first ones. */
export function listWaysBack(
  layout: Layout,
  arc: ArcNumber,
  leftM: number,
  met: readonly number[],
  seen: readonly ArcNumber[] = [],
  left: Left = { links: MAX_LINKS },
): readonly WayBack[] {
  if (left.links === 0) return [];
  left.links -= 1;
  const { driven, onArc, atNode } = layout;
  const link = driven.links[arc >> 1] as Link;
  const own = [...met];
  for (const { candidate, alongM } of onArc[arc] ?? []) {
    if (link.lengthM - alongM <= leftM + SLACK_M) own.push(candidate);
  }
  if (link.lengthM > leftM + SLACK_M) return [{ of: own, isFromOpen: false }];
  const { start } = endsOfArc(driven.links, arc);
  if (driven.open.has(start)) return [{ of: own, isFromOpen: true }];
  own.push(...(atNode.get(start) ?? []));
  const sources = (driven.before[arc] ?? []).filter((one) => one !== arc && !seen.includes(one));
  if (sources.length === 0) return [{ of: own, isFromOpen: false }];
  return sources.flatMap((one) => listWaysBack(layout, one, leftM - link.lengthM, own, [...seen, arc], left));
}

export function sortUnique(of: number[]): number[] {
  const isSorted = of.every((one, i) => i === 0 || (of[i - 1] as number) < one);
  return isSorted ? of : [...new Set(of)].sort((a, b) => a - b);
}

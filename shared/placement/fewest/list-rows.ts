import type { LineAddress } from '../../alignment/line-address.ts';
import type { Decision, Link } from '../../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc } from '../driven-arcs.ts';
import { listApproaches } from '../limit-spacing.ts';
import type { Rules } from '../rules.ts';
import { sightDistanceM } from '../sight-distance.ts';
import type { Candidate, Row } from './question.ts';

/** Rounding that must not break a rule, metres. */
const SLACK_M = 1e-7;

/** The candidates as a driver meets them: between the ends of each link by chainage, and at the nodes. */
export type Layout = {
  readonly driven: DrivenArcs;
  readonly onLink: readonly (readonly Spot[])[];
  readonly atNode: ReadonlyMap<number, readonly number[]>;
};
export type Spot = { readonly candidate: number; readonly chainageM: number };

/** Lays the candidates out along the links that are driven. */
export function toLayout(driven: DrivenArcs, candidates: readonly Candidate[]): Layout {
  const index = new Map(driven.links.map((link, i) => [link.id, i]));
  const onLink: Spot[][] = driven.links.map(() => []);
  const atNode = new Map<number, number[]>();
  candidates.forEach(({ linkId, chainageM, node }, candidate) => {
    if (node !== undefined) atNode.set(node, [...(atNode.get(node) ?? []), candidate]);
    else onLink[index.get(linkId) ?? -1]?.push({ candidate, chainageM });
  });
  return { driven, onLink, atNode };
}

/**
 * One row for each stretch of `rules.spacingM` that a driver can drive from a candidate or an entry on: it has a beacon,
 * unless the drive ends in the open air before. At every place of it, so no gap is longer. Where no beacon may fail
 * (`redundancy` 1) it has two.
 */
export function listGapRows(layout: Layout, rules: Rules): readonly Row[] {
  const { driven, onLink } = layout;
  const need = rules.redundancy < 2 ? 2 : 1;
  return driven.arcs.flatMap((arc) => {
    const link = driven.links[arc >> 1] as Link;
    const starts = [0, ...(onLink[arc >> 1] ?? []).map(({ chainageM }) => along(link, arc, chainageM))];
    return starts.flatMap((fromM) =>
      listWindows(layout, arc, fromM, rules.spacingM).map(
        (of): Row => ({ kind: 'gap', at: addressOf(link, arc, fromM), need, of }),
      ),
    );
  });
}

/** One row for each branch of each fork: it has a beacon within `rules.branchConfirmationM`, or ends in the open air. */
export function listBranchRows(layout: Layout, rules: Rules, branches: readonly ArcNumber[]): readonly Row[] {
  return branches.flatMap((arc) => {
    const at = addressOf(layout.driven.links[arc >> 1] as Link, arc, 0);
    const windows = listWindows(layout, arc, 0, rules.branchConfirmationM);
    return windows.map((of): Row => ({ kind: 'branch', at, need: 1, of }));
  });
}

/**
 * One row for each way that leads to a fork: it has `rules.decisionBeacons` within the decision sight distance before
 * it, the place of the fork itself left out; an entry from the open air counts as one.
 */
export function listDecisionRows(
  layout: Layout,
  rules: Rules,
  decisions: readonly Decision[],
): readonly Row[] {
  return decisions.flatMap((decision) => {
    const sightM = sightDistanceM(decision.speedMps, rules.decisionTimeS);
    return listApproaches(layout.driven, decision).flatMap((arc) =>
      listApproachRows(layout, arc, sightM, [], rules.decisionBeacons),
    );
  });
}

/**
 * The same for the forks in the open air after a portal: what is left of the distance lies inside the bore, and the beacon
 * at that portal counts. Where that leaves no room for so many at the closest spacing, nothing is asked.
 */
export function listPortalDecisionRows(
  layout: Layout,
  rules: Rules,
  decisions: readonly Decision[],
): readonly Row[] {
  const { links, arcs } = layout.driven;
  const roomM = rules.portalOffsetM + rules.closestM * (rules.decisionBeacons - 1);
  return decisions.flatMap((decision) =>
    listExits(decision).flatMap(({ portalNode, distanceM }) => {
      const leftM = sightDistanceM(decision.speedMps, rules.decisionTimeS) - distanceM;
      const atPortal = layout.atNode.get(portalNode) ?? [];
      if (leftM <= SLACK_M || leftM < roomM - SLACK_M) return [];
      return arcs
        .filter((arc) => endsOfArc(links, arc).end === portalNode)
        .flatMap((arc) => listApproachRows(layout, arc, leftM, atPortal, rules.decisionBeacons));
    }),
  );
}

/** The portals that a driver comes from to a fork in the open air, with the way from there, metres. */
export function listExits({ portalNode, distanceFromPortalM, alsoFrom = [] }: Decision) {
  if (portalNode === undefined || distanceFromPortalM === undefined) return [];
  return [{ portalNode, distanceM: distanceFromPortalM }, ...alsoFrom];
}

function listApproachRows(
  layout: Layout,
  arc: ArcNumber,
  lengthM: number,
  met: readonly number[],
  beacons: number,
): readonly Row[] {
  const link = layout.driven.links[arc >> 1] as Link;
  const at = addressOf(link, arc, link.lengthM);
  return listWaysBack(layout, arc, lengthM, met, []).map(({ of, isFromOpen }): Row => {
    const need = beacons - Number(isFromOpen);
    return { kind: 'decision', at, need, of: sortUnique(of) };
  });
}

/** The arcs that leave the forks. */
export function listBranches(driven: DrivenArcs, decisions: readonly Decision[]): readonly ArcNumber[] {
  const arcs = decisions.flatMap((decision) =>
    listApproaches(driven, decision).flatMap((arc) => driven.next[arc] ?? []),
  );
  return [...new Set(arcs)].sort((a, b) => a - b);
}

/** The candidates within `lengthM` past a place of an arc, its end included, for each way on that stays underground. */
function listWindows(layout: Layout, arc: ArcNumber, fromM: number, lengthM: number): readonly number[][] {
  const found: number[][] = [];
  drive(layout, arc, fromM, lengthM + SLACK_M, [], [], found);
  return found.map(sortUnique);
}

function drive(
  layout: Layout,
  arc: ArcNumber,
  fromM: number,
  leftM: number,
  met: readonly number[],
  seen: readonly ArcNumber[],
  found: number[][],
): void {
  const { driven, onLink, atNode } = layout;
  const link = driven.links[arc >> 1] as Link;
  const own = [...met];
  for (const { candidate, chainageM } of onLink[arc >> 1] ?? []) {
    const atM = along(link, arc, chainageM);
    if (atM > fromM + SLACK_M && atM <= fromM + leftM) own.push(candidate);
  }
  const restM = leftM - (link.lengthM - fromM);
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
    else drive(layout, to, 0, restM, own, [...seen, arc], found);
  }
}

type WayBack = { readonly of: readonly number[]; readonly isFromOpen: boolean };

/** The candidates within `leftM` before the end of an arc, for each way of arriving. */
function listWaysBack(
  layout: Layout,
  arc: ArcNumber,
  leftM: number,
  met: readonly number[],
  seen: readonly ArcNumber[],
): readonly WayBack[] {
  const { driven, onLink, atNode } = layout;
  const link = driven.links[arc >> 1] as Link;
  const own = [...met];
  for (const { candidate, chainageM } of onLink[arc >> 1] ?? []) {
    if (link.lengthM - along(link, arc, chainageM) <= leftM + SLACK_M) own.push(candidate);
  }
  if (link.lengthM > leftM + SLACK_M) return [{ of: own, isFromOpen: false }];
  const { start } = endsOfArc(driven.links, arc);
  if (driven.open.has(start)) return [{ of: own, isFromOpen: true }];
  own.push(...(atNode.get(start) ?? []));
  const sources = (driven.before[arc] ?? []).filter((one) => one !== arc && !seen.includes(one));
  if (sources.length === 0) return [{ of: own, isFromOpen: false }];
  return sources.flatMap((one) => listWaysBack(layout, one, leftM - link.lengthM, own, [...seen, arc]));
}

/** Metres from the start of an arc to a chainage of its link, and back. */
function along({ lengthM }: Link, arc: ArcNumber, chainageM: number): number {
  return arc % 2 === 0 ? chainageM : lengthM - chainageM;
}

function addressOf(link: Link, arc: ArcNumber, alongM: number): LineAddress {
  return { linkId: link.id, chainageM: along(link, arc, alongM) };
}

function sortUnique(of: readonly number[]): number[] {
  return [...new Set(of)].sort((a, b) => a - b);
}

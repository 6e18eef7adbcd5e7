import type { LineAddress } from '../../alignment/line-address.ts';
import type { Decision, Link } from '../../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc } from '../driven-arcs.ts';
import { listApproaches } from '../limit-spacing.ts';
import type { Rules } from '../rules.ts';
import { sightDistanceM } from '../sight-distance.ts';
import type { Candidate, Row } from './question.ts';

/** Rounding that must not break a rule, metres. */
const SLACK_M = 1e-7;

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

/**
 * One row for each stretch of `rules.spacingM` that a driver can drive from a candidate or an entry on: it has a beacon,
 * unless the drive ends in the open air before. At every place of it, so no gap is longer. Where no beacon may fail
 * (`redundancy` 1) it has two.
 */
export function listGapRows(layout: Layout, rules: Rules): readonly Row[] {
  const { driven, onArc } = layout;
  const need = rules.redundancy < 2 ? 2 : 1;
  return driven.arcs.flatMap((arc) => {
    const link = driven.links[arc >> 1] as Link;
    const starts = [0, ...(onArc[arc] ?? []).map(({ alongM }) => alongM)];
    return starts.flatMap((fromM, past) =>
      listWindows(layout, arc, { fromM, past }, rules.spacingM).map(
        (of): Row => ({ kind: 'gap', at: addressOf(link, arc, fromM), need, of }),
      ),
    );
  });
}

/** One row for each branch of each fork: it has a beacon within `rules.branchConfirmationM`, or ends in the open air. */
export function listBranchRows(layout: Layout, rules: Rules, branches: readonly ArcNumber[]): readonly Row[] {
  return branches.flatMap((arc) => {
    const at = addressOf(layout.driven.links[arc >> 1] as Link, arc, 0);
    const windows = listWindows(layout, arc, START, rules.branchConfirmationM);
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

/** A place of an arc: metres from its start, and how many of its candidates are not past it. */
type From = { readonly fromM: number; readonly past: number };
const START: From = { fromM: 0, past: 0 };

/** The candidates within `lengthM` past a place of an arc, its end included, for each way on that stays underground. */
function listWindows(layout: Layout, arc: ArcNumber, from: From, lengthM: number): readonly number[][] {
  const found: number[][] = [];
  drive(layout, arc, from, lengthM + SLACK_M, [], [], found);
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
): void {
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
    else drive(layout, to, START, restM, own, [...seen, arc], found);
  }
}

type WayBack = { readonly of: number[]; readonly isFromOpen: boolean };

/** The candidates within `leftM` before the end of an arc, for each way of arriving. */
function listWaysBack(
  layout: Layout,
  arc: ArcNumber,
  leftM: number,
  met: readonly number[],
  seen: readonly ArcNumber[],
): readonly WayBack[] {
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
  return sources.flatMap((one) => listWaysBack(layout, one, leftM - link.lengthM, own, [...seen, arc]));
}

function addressOf({ id, lengthM }: Link, arc: ArcNumber, alongM: number): LineAddress {
  return { linkId: id, chainageM: arc % 2 === 0 ? alongM : lengthM - alongM };
}

function sortUnique(of: number[]): number[] {
  const isSorted = of.every((one, i) => i === 0 || (of[i - 1] as number) < one);
  return isSorted ? of : [...new Set(of)].sort((a, b) => a - b);
}

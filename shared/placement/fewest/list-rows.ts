import type { LineAddress } from '../../alignment/line-address.ts';
import type { Decision, Link } from '../../network/network.ts';
import { type ArcNumber, endsOfArc, listApproaches } from '../driven-arcs.ts';
import type { Rules } from '../rules.ts';
import { listSightInside, sightDistanceM } from '../sight-distance.ts';
import { findSightRoomM } from '../sight-room.ts';
import type { Row } from './question.ts';
import {
  type From,
  type Layout,
  listNext,
  listWaysBack,
  listWindows,
  START,
  sortUnique,
} from './walk-layout.ts';

/**
 * One row for each stretch of `rules.spacingM` that a driver can drive from a candidate or an entry on: it has a beacon,
 * unless the drive ends in the open air before. At every place of it, so no gap is longer. Where no beacon may fail
 * (`redundancy` 1) it has two. Where no beacon can stand for so long, the gap gets one at each of its ends.
 */
export function listGapRows(layout: Layout, rules: Rules): readonly Row[] {
  const { driven, onArc } = layout;
  const need = rules.redundancy < 2 ? 2 : 1;
  return driven.arcs.flatMap((arc) => {
    const link = driven.links[arc >> 1] as Link;
    const starts = [0, ...(onArc[arc] ?? []).map(({ alongM }) => alongM)];
    return starts.flatMap((fromM, past) => {
      const from = { fromM, past };
      const at = addressOf(link, arc, fromM);
      const windows = listWindows(layout, arc, from, rules.spacingM);
      const rows = windows.map((of): Row => ({ kind: 'gap', at, need, of }));
      if (windows.every((of) => of.length > 0)) return rows;
      const ends = [...listHere(layout, arc, from), ...listNext(layout, arc, from)];
      return [...rows, ...ends.map((one): Row => ({ kind: 'gap', at, need: 1, of: [one] }))];
    });
  });
}

/** The candidate at a place of an arc where one of its spots is, or at its start. */
function listHere({ driven, onArc, atNode }: Layout, arc: ArcNumber, { past }: From): readonly number[] {
  const spot = onArc[arc]?.[past - 1];
  if (spot !== undefined) return [spot.candidate];
  return (atNode.get(endsOfArc(driven.links, arc).start) ?? []).slice(0, 1);
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
      listApproachRows(layout, rules, arc, sightM, undefined),
    );
  });
}

/**
 * The same for the forks in the open air after a portal: what is left of the distance lies inside the bore, and the beacon
 * at that portal counts.
 */
export function listPortalDecisionRows(
  layout: Layout,
  rules: Rules,
  decisions: readonly Decision[],
): readonly Row[] {
  const { links, arcs } = layout.driven;
  return decisions.flatMap((decision) =>
    listSightInside(decision, rules).flatMap(({ portalNode, insideM }) => {
      const atPortal = layout.atNode.get(portalNode) ?? [];
      return arcs
        .filter((arc) => endsOfArc(links, arc).end === portalNode)
        .flatMap((arc) => listApproachRows(layout, rules, arc, insideM, atPortal));
    }),
  );
}

/** `atPortal`: the candidates at the exit portal, where the approach leads to one. Nothing where there is no room. */
function listApproachRows(
  layout: Layout,
  rules: Rules,
  arc: ArcNumber,
  sightM: number,
  atPortal: readonly number[] | undefined,
): readonly Row[] {
  const isAtPortal = atPortal !== undefined;
  if (findSightRoomM(layout.driven, arc, sightM, rules, isAtPortal) === undefined) return [];
  const link = layout.driven.links[arc >> 1] as Link;
  const at = addressOf(link, arc, link.lengthM);
  return listWaysBack(layout, arc, sightM, atPortal ?? []).map(({ of, isFromOpen }): Row => {
    const need = rules.decisionBeacons - Number(isFromOpen);
    return { kind: 'decision', at, need, of: sortUnique(of) };
  });
}

function addressOf({ id, lengthM }: Link, arc: ArcNumber, alongM: number): LineAddress {
  return { linkId: id, chainageM: arc % 2 === 0 ? alongM : lengthM - alongM };
}

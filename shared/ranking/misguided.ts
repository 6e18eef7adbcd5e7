import type { Both, DecisionDrive } from '../drive/drive.ts';
import type { LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';

/** Vehicles that come along a link towards a decision point, in that direction, in a day. */
export type ApproachTraffic = { readonly vehiclesPerDay: number; readonly isAssumed: boolean };

/** One decision point as it is reached by one link: the product of what is listed is the misguided drivers of a day. */
export type MisguidedTerm = {
  readonly osmNode: number;
  readonly linkId: LinkId;
  readonly where: DecisionDrive['where'];
  readonly vehiclesPerDay: number;
  readonly isTrafficAssumed: boolean;
  /** The share of these vehicles that come by the point: 1 underground, less past a choice in the open air. */
  readonly reachShare: number;
  readonly satnavShare: number;
  /** Over how many routes the share of misguided drives is averaged. */
  readonly routes: number;
  readonly misguidedShare: Both<number>;
  readonly perDay: Both<number>;
};

export type Misguided = { readonly perDay: Both<number>; readonly terms: readonly MisguidedTerm[] };

/**
 * Misguided drivers of a day of one complex, by decision point and approach: vehicles of the approach × share of them
 * that come by × share of guided drivers × share of drives that are misguided there (late or early) and were not before,
 * the last averaged over the routes that come by the approach, all alike, because nothing is known of how the vehicles
 * spread over them. Each approach counts once, and so does each driver: at the first point where guidance fails. The
 * figures are the sums of the terms, in their order (by node, then link). Throws where a link has no traffic.
 */
export function countMisguided(
  decisions: readonly DecisionDrive[],
  traffic: ReadonlyMap<LinkId, ApproachTraffic>,
  satnavShare: number,
): Misguided {
  const terms = groupByApproach(decisions).map((drives) => toTerm(drives, traffic, satnavShare));
  return {
    perDay: {
      without: terms.reduce((sum, { perDay }) => sum + perDay.without, 0),
      with: terms.reduce((sum, { perDay }) => sum + perDay.with, 0),
    },
    terms,
  };
}

type Drives = readonly [DecisionDrive, ...DecisionDrive[]];

function groupByApproach(decisions: readonly DecisionDrive[]): readonly Drives[] {
  const groups = new Map<string, [DecisionDrive, ...DecisionDrive[]]>();
  const sorted = [...decisions].sort(
    (a, b) => a.osmNode - b.osmNode || byText(a.linkId, b.linkId) || byText(a.routeId, b.routeId),
  );
  for (const drive of sorted) {
    const key = `${drive.osmNode} ${drive.linkId}`;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [drive]);
    else group.push(drive);
  }
  return [...groups.values()];
}

function toTerm(
  drives: Drives,
  traffic: ReadonlyMap<LinkId, ApproachTraffic>,
  satnavShare: number,
): MisguidedTerm {
  // All of one approach leave by one portal: they have the same share.
  const [{ osmNode, linkId, where, reachShare }] = drives;
  const approach = traffic.get(linkId);
  if (approach === undefined) throw new Error(`no traffic for link ${linkId}`);
  const { vehiclesPerDay, isAssumed } = approach;
  const misguidedShare = { without: meanShare(drives, 'without'), with: meanShare(drives, 'with') };
  const guided = vehiclesPerDay * reachShare * satnavShare;
  return {
    osmNode,
    linkId,
    where,
    vehiclesPerDay,
    isTrafficAssumed: isAssumed,
    reachShare,
    satnavShare,
    routes: drives.length,
    misguidedShare,
    perDay: { without: guided * misguidedShare.without, with: guided * misguidedShare.with },
  };
}

function meanShare(drives: Drives, which: keyof Both<number>): number {
  const shares = drives.map(({ misguidedShare }) => misguidedShare[which]);
  return shares.reduce((sum, share) => sum + share, 0) / shares.length;
}

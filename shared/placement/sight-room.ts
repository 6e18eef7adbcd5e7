import type { Link } from '../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc } from './driven-arcs.ts';
import type { Rules } from './rules.ts';

/** What a way back is followed on. */
export type Walked = {
  readonly links: readonly Pick<Link, 'fromNode' | 'toNode' | 'lengthM'>[];
} & Pick<DrivenArcs, 'before' | 'open'>;

/** Rounding that must not ask for what there is no room for, metres. */
const SLACK_M = 1e-6;

/**
 * How far before the end of an arc the beacons that announce a decision can stand, metres: the sight distance, or less
 * where a portal is nearer, from which drivers come with a satellite fix. Undefined where that leaves no room for as many
 * as the rules want at the closest spacing: then nothing is asked of the approach. `isAtPortal`: a beacon at the end of
 * the arc, an exit portal, is one of them; a fork's own comes too late.
 */
export function findSightRoomM(
  walked: Walked,
  arc: ArcNumber,
  sightM: number,
  { decisionBeacons, closestM, portalOffsetM }: Rules,
  isAtPortal: boolean,
): number | undefined {
  const reachM = Math.min(sightM, distanceToOpen(walked, listBack(walked, arc, sightM)));
  const roomM = isAtPortal ? portalOffsetM + closestM * (decisionBeacons - 1) : closestM * decisionBeacons;
  return reachM >= roomM - SLACK_M ? reachM : undefined;
}

/** An arc that leads to a place, and the metres from its end to there by the shortest way. */
export type Back = { readonly arc: ArcNumber; readonly backM: number };

/** What leads to the end of an arc within `mostM`, itself first; each once, for the ways through a mesh are without number. */
export function listBack(walked: Walked, arc: ArcNumber, mostM: number): readonly Back[] {
  const found = new Map<ArcNumber, Back>();
  const open: Back[] = [{ arc, backM: 0 }];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    if (found.has(one.arc)) continue;
    found.set(one.arc, one);
    const backM = one.backM + lengthOf(walked, one.arc);
    if (backM >= mostM) continue;
    for (const before of walked.before[one.arc] ?? []) open.push({ arc: before, backM });
    open.sort((a, b) => b.backM - a.backM);
  }
  return [...found.values()];
}

/** Metres back to the nearest portal that the place is driven to from. */
function distanceToOpen(walked: Walked, back: readonly Back[]): number {
  const entries = back.filter(
    ({ arc }) => walked.open.has(endsOfArc(walked.links, arc).start) || walked.before[arc]?.length === 0,
  );
  return Math.min(...entries.map(({ arc, backM }) => backM + lengthOf(walked, arc)));
}

function lengthOf({ links }: Walked, arc: ArcNumber): number {
  return links[arc >> 1]?.lengthM ?? 0;
}

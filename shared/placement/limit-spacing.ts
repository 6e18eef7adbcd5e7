import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc, listApproaches } from './driven-arcs.ts';
import type { Rules } from './rules.ts';
import { listSightInside, sightDistanceM } from './sight-distance.ts';

/** A stretch of a link where the beacons stand closer than elsewhere. */
export type SpacingLimit = {
  readonly linkId: LinkId;
  readonly fromM: number;
  readonly toM: number;
  readonly spacingM: number;
};

/**
 * The spacing that every approach to a decision point needs, so that enough beacons stand inside the decision sight
 * distance before it. Where an entry portal is nearer than that, satellites give one of the fixes there. Of a decision
 * after a portal only what is left of the distance lies inside the bore, and the beacon at that portal is one of them;
 * where that leaves no room for the others at the closest spacing, nothing is asked.
 */
export function limitSpacing(
  { complex }: ComplexNetwork,
  driven: DrivenArcs,
  rules: Rules,
): readonly SpacingLimit[] {
  const count = rules.decisionBeacons;
  if (count === 0) return [];
  const limit = (arc: ArcNumber, sightM: number, toReach: (reachM: number) => number) => {
    const back = listBack(driven, arc, sightM);
    const reachM = Math.min(sightM, distanceToOpen(driven, back));
    return limitBack(driven, back, reachM, toReach(reachM));
  };
  const underground = complex.diverges.flatMap((decision) => {
    const sightM = sightDistanceM(decision.speedMps, rules.decisionTimeS);
    return listApproaches(driven, decision).flatMap((arc) => limit(arc, sightM, (reachM) => reachM / count));
  });
  if (count === 1) return underground;
  const toReach = (reachM: number) => Math.max(1, reachM - rules.portalOffsetM) / (count - 1);
  const afterPortal = complex.decisionsAfterPortal.flatMap((decision) =>
    listSightInside(decision, rules).flatMap(({ portalNode, insideM }) =>
      driven.arcs
        .filter((arc) => endsOfArc(driven.links, arc).end === portalNode)
        .flatMap((arc) => limit(arc, insideM, toReach)),
    ),
  );
  return [...underground, ...afterPortal];
}

/** An arc that leads to a place, and the metres from its end to there by the shortest way. */
type Back = { readonly arc: ArcNumber; readonly backM: number };

/** What leads to the end of an arc within `mostM`, itself first; each once, for the ways through a mesh are without number. */
function listBack(driven: DrivenArcs, arc: ArcNumber, mostM: number): readonly Back[] {
  const found = new Map<ArcNumber, Back>();
  const open: Back[] = [{ arc, backM: 0 }];
  for (let one = open.pop(); one !== undefined; one = open.pop()) {
    if (found.has(one.arc)) continue;
    found.set(one.arc, one);
    const backM = one.backM + lengthOf(driven, one.arc);
    if (backM >= mostM) continue;
    for (const before of driven.before[one.arc] ?? []) open.push({ arc: before, backM });
    open.sort((a, b) => b.backM - a.backM);
  }
  return [...found.values()];
}

/** Metres back to the nearest portal that the place is driven to from. */
function distanceToOpen(driven: DrivenArcs, back: readonly Back[]): number {
  const entries = back.filter(
    ({ arc }) => driven.open.has(endsOfArc(driven.links, arc).start) || driven.before[arc]?.length === 0,
  );
  return Math.min(...entries.map(({ arc, backM }) => backM + lengthOf(driven, arc)));
}

/** The last `reachM` metres before a place, on every way of arriving. */
function limitBack(
  driven: DrivenArcs,
  back: readonly Back[],
  reachM: number,
  spacingM: number,
): readonly SpacingLimit[] {
  const near = back.filter(({ backM }) => backM < reachM);
  return near.map(({ arc, backM }) => {
    const { id, lengthM } = driven.links[arc >> 1] as Link;
    const partM = Math.min(reachM - backM, lengthM);
    const [fromM, toM] = arc % 2 === 0 ? [lengthM - partM, lengthM] : [0, partM];
    return { linkId: id, fromM, toM, spacingM };
  });
}

function lengthOf(driven: DrivenArcs, arc: ArcNumber): number {
  return (driven.links[arc >> 1] as Link).lengthM;
}

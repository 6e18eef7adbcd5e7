import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import { type ArcNumber, type DrivenArcs, endsOfArc, listApproaches } from './driven-arcs.ts';
import type { Rules } from './rules.ts';
import { listSightInside, sightDistanceM } from './sight-distance.ts';
import { type Back, findSightRoomM, listBack } from './sight-room.ts';

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
 * after a portal only what is left of the distance lies inside the bore, and the beacon at that portal is one of them.
 * Where there is no room for them at the closest spacing, nothing is asked.
 */
export function limitSpacing(
  { complex }: ComplexNetwork,
  driven: DrivenArcs,
  rules: Rules,
): readonly SpacingLimit[] {
  const count = rules.decisionBeacons;
  if (count === 0) return [];
  const limit = (arc: ArcNumber, sightM: number, isAtPortal: boolean) => {
    const reachM = findSightRoomM(driven, arc, sightM, rules, isAtPortal);
    if (reachM === undefined) return [];
    const spacingM = isAtPortal ? (reachM - rules.portalOffsetM) / (count - 1) : reachM / count;
    return limitBack(driven, listBack(driven, arc, reachM), reachM, spacingM);
  };
  const underground = complex.diverges.flatMap((decision) => {
    const sightM = sightDistanceM(decision.speedMps, rules.decisionTimeS);
    return listApproaches(driven, decision).flatMap((arc) => limit(arc, sightM, false));
  });
  if (count === 1) return underground;
  const afterPortal = complex.decisionsAfterPortal.flatMap((decision) =>
    listSightInside(decision, rules).flatMap(({ portalNode, insideM }) =>
      driven.arcs
        .filter((arc) => endsOfArc(driven.links, arc).end === portalNode)
        .flatMap((arc) => limit(arc, insideM, true)),
    ),
  );
  return [...underground, ...afterPortal];
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

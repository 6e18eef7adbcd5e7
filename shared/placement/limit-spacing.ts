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
    const reachM = Math.min(sightM, distanceToOpen(driven, arc, sightM));
    return walkBack(driven, arc, reachM, toReach(reachM));
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

/** Metres from the end of an arc back to the nearest portal that it is driven from, up to `mostM`. */
function distanceToOpen(
  driven: DrivenArcs,
  arc: ArcNumber,
  mostM: number,
  seen: readonly ArcNumber[] = [],
): number {
  const { lengthM } = driven.links[arc >> 1] as Link;
  if (lengthM >= mostM) return mostM;
  const before = (driven.before[arc] ?? []).filter((one) => one !== arc && !seen.includes(one));
  if (driven.open.has(endsOfArc(driven.links, arc).start) || before.length === 0) return lengthM;
  const further = before.map((one) => distanceToOpen(driven, one, mostM - lengthM, [...seen, arc]));
  return lengthM + Math.min(...further);
}

/** The last `leftM` metres before the end of an arc, on every way of arriving. */
function walkBack(
  driven: DrivenArcs,
  arc: ArcNumber,
  leftM: number,
  spacingM: number,
  seen: readonly ArcNumber[] = [],
): readonly SpacingLimit[] {
  const { id, lengthM } = driven.links[arc >> 1] as Link;
  const partM = Math.min(leftM, lengthM);
  const [fromM, toM] = arc % 2 === 0 ? [lengthM - partM, lengthM] : [0, partM];
  const own = { linkId: id, fromM, toM, spacingM };
  if (leftM <= lengthM) return [own];
  const before = (driven.before[arc] ?? []).filter((one) => one !== arc && !seen.includes(one));
  return [own, ...before.flatMap((one) => walkBack(driven, one, leftM - lengthM, spacingM, [...seen, arc]))];
}

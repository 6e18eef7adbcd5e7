import { durationOf, type Leg, type Legs } from './legs.ts';
import type { LinkId, Opening, Portal } from './network.ts';

export type OutageMeasures = {
  /** For each link the longest drive without satellite positioning that passes it, seconds at the speed limits. */
  readonly outageS: ReadonlyMap<LinkId, number>;
  /** For each node the distance from the last satellite fix: the farthest entry portal's shortest legal way, metres. */
  readonly fromFixM: ReadonlyMap<number, number>;
};

/**
 * Measures by the shortest legal ways from every entry portal of one kind of tunnel to every exit. An opening too
 * short to recover in continues the outage, into whichever tunnel it leads; rings cannot make it run on.
 */
export function measureOutages(
  legs: Legs,
  portals: readonly Portal[],
  openings: readonly Opening[],
): OutageMeasures {
  const portalAt = new Map(portals.map((portal) => [portal.osmNode, portal]));
  const openingsAt = new Map<number, Opening[]>();
  for (const opening of openings) {
    openingsAt.set(opening.fromNode, [...(openingsAt.get(opening.fromNode) ?? []), opening]);
  }
  const outageS = new Map<LinkId, number>();
  const fromFixM = new Map<number, number>();
  for (const entry of portals) {
    const nearest = new Map<number, number>();
    for (const reached of spread(legs, entry, portalAt, openingsAt)) {
      const { leg, atM, atS } = reached;
      // Settled nearest first: the first time is the shortest way.
      if (!nearest.has(leg.endNode)) nearest.set(leg.endNode, atM);
      const portal = portalAt.get(leg.endNode);
      // Back out of the mouth that one came in by (round a roundabout) is no way through.
      if (portal === undefined || portal.osmNode === entry.osmNode || !legs.leaves(leg, portal)) continue;
      for (let step: Reached | undefined = reached; step !== undefined; step = step.before) {
        outageS.set(step.leg.link.id, Math.max(outageS.get(step.leg.link.id) ?? 0, atS));
      }
    }
    for (const [node, atM] of nearest) fromFixM.set(node, Math.max(fromFixM.get(node) ?? 0, atM));
  }
  return { outageS, fromFixM };
}

type Reached = {
  readonly leg: Leg;
  /** At the leg's end. */
  readonly atM: number;
  readonly atS: number;
  readonly before: Reached | undefined;
};

/** Dijkstra over legs; tunnels have tens of them, so a plain search for the nearest will do. */
function* spread(
  legs: Legs,
  entry: Portal,
  portalAt: ReadonlyMap<number, Portal>,
  openingsAt: ReadonlyMap<number, readonly Opening[]>,
): Generator<Reached> {
  const settled = new Set<string>();
  const open: Reached[] = [];
  const push = (leg: Leg, before: Reached | undefined, gapM = 0, gapS = 0) => {
    const atM = (before?.atM ?? 0) + gapM + leg.link.lengthM;
    const atS = (before?.atS ?? 0) + gapS + durationOf(leg.link, leg.against);
    open.push({ leg, atM, atS, before });
  };
  for (const leg of legs.entering(entry)) push(leg, undefined);
  while (open.length > 0) {
    open.sort((a, b) => b.atM - a.atM);
    const reached = open.pop() as Reached;
    const { leg } = reached;
    const key = `${leg.link.id} ${leg.against}`;
    if (settled.has(key)) continue;
    settled.add(key);
    yield reached;
    for (const next of legs.after(leg)) push(next, reached);
    const portal = portalAt.get(leg.endNode);
    if (portal === undefined || !legs.leaves(leg, portal)) continue;
    for (const { toNode, lengthM, durationS } of openingsAt.get(leg.endNode) ?? []) {
      const next = portalAt.get(toNode);
      if (next === undefined) continue;
      for (const begun of legs.entering(next)) push(begun, reached, lengthM, durationS);
    }
  }
}

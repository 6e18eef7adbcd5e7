import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import type { BeaconId, BeaconRole, Pin } from './beacon.ts';
import { type DrivenArcs, listBranches } from './driven-arcs.ts';
import type { Interval } from './keep-out.ts';
import type { NextId } from './make-ids.ts';
import type { WallPlan } from './plan-walls.ts';
import type { Rules } from './rules.ts';

/** A beacon that stands at an end of links, or as near to it as the keep-outs let it. */
export type EndBeacon = {
  readonly id: BeaconId;
  readonly linkId: LinkId;
  readonly chainageM: number;
  readonly role: BeaconRole;
};

/** What stands at one node for the links that end there. */
export type EndPlan = {
  readonly beacons: readonly EndBeacon[];
  /**
   * Where each link's equal intervals begin, metres from this end into the link: 0 for a beacon at the node, less for
   * one beyond it that every driver passes. Absent where the beacon that serves the node stands inside the link.
   */
  readonly anchorM: ReadonlyMap<EndKey, number>;
};

/** One end of one link. */
export type EndKey = `${LinkId} ${'start' | 'end'}`;

type LinkEnd = { readonly link: Link; readonly key: EndKey; readonly atStart: boolean };

/** Places nearer to a node than this stand at the node, metres. */
const AT_NODE_M = 0.01;

/** The id of the beacon that belongs to an end node. */
export function endBeaconId(osmNode: number): BeaconId {
  return `n${osmNode}` as BeaconId;
}

export function keyOfEnd(link: Link, atStart: boolean): EndKey {
  return `${link.id} ${atStart ? 'start' : 'end'}`;
}

type PlanInput = {
  readonly network: ComplexNetwork;
  readonly driven: DrivenArcs;
  readonly rules: Rules;
  readonly pins: readonly Pin[];
  readonly walls: WallPlan;
  readonly nextId: NextId;
};

/**
 * Plans one beacon for every node where links end: at the node itself, so that all of them share it; at a portal as far
 * inside as the rules say; where it is kept out, at the nearest free place that every driver through the node passes,
 * else at the nearest one of each link. A node that is very near to another one goes without where every driver
 * passes both.
 */
export function planEnds(input: PlanInput): ReadonlyMap<number, EndPlan> {
  const { driven } = input;
  const ends = new Map<number, LinkEnd[]>();
  for (const link of driven.links) {
    for (const atStart of [true, false]) {
      const node = atStart ? link.fromNode : link.toNode;
      ends.set(node, [...(ends.get(node) ?? []), { link, atStart, key: keyOfEnd(link, atStart) }]);
    }
  }
  const served = listServed(driven);
  const plans = new Map<number, EndPlan>();
  for (const [node, at] of ends) plans.set(node, planEnd(input, node, at, served));
  const serving = shareNear(input, ends, served, plans);
  moveForBranches(input, ends, served, serving, plans);
  return plans;
}

/** By node: the links that every drive through it passes; all of its links where it has only one. */
type Served = (node: number, link: Link, count: number) => boolean;

function listServed({ links, arcs, next, open }: DrivenArcs): Served {
  const passed = new Map<number, Set<LinkId>>();
  for (const arc of arcs) {
    const from = links[arc >> 1] as Link;
    const node = arc % 2 === 0 ? from.toNode : from.fromNode;
    for (const to of next[arc] ?? []) {
      const both = new Set([from.id, (links[to >> 1] as Link).id]);
      const known = passed.get(node);
      passed.set(node, known === undefined ? both : new Set([...known].filter((id) => both.has(id))));
    }
  }
  return (node, link, count) => count === 1 || (!open.has(node) && passed.get(node)?.has(link.id) === true);
}

function planEnd(input: PlanInput, node: number, ends: readonly LinkEnd[], served: Served): EndPlan {
  const { pins, rules, nextId, network } = input;
  const pin = pins.find(({ id }) => id === endBeaconId(node));
  const moved = pin && findMoved(pin, ends, (link) => served(node, link, ends.length));
  if (moved !== undefined && moved.awayM <= rules.spacingM) return serve(ends, moved.key, moved.awayM);
  // Where the pin went too far to serve its old end, the end gets a beacon of its own again.
  const name = (isFirst: boolean) => (pin === undefined && isFirst ? endBeaconId(node) : nextId(`n${node}.`));
  const role = roleOfEnd(network, node);
  const make = ({ link, atStart }: LinkEnd, fromEndM: number, isFirst = true): EndBeacon => {
    const chainageM = atStart ? fromEndM : link.lengthM - fromEndM;
    return { id: name(isFirst), linkId: link.id, chainageM, role };
  };
  const free = ends.map((end) => ({ end, fromEndM: findFreeFromEnd(end, input, node, ends.length) }));
  const common = free
    .filter(
      ({ end, fromEndM }) =>
        fromEndM !== undefined && (fromEndM === 0 || served(node, end.link, ends.length)),
    )
    .reduce<(typeof free)[number] | undefined>(
      (best, one) => (best !== undefined && (best.fromEndM ?? 0) <= (one.fromEndM ?? 0) ? best : one),
      undefined,
    );
  if (common?.fromEndM !== undefined) {
    const { end, fromEndM } = common;
    const plan = serve(ends, end.key, fromEndM);
    return { beacons: [make(end, fromEndM)], anchorM: new Map([...plan.anchorM, [end.key, fromEndM]]) };
  }
  const own = free.flatMap(({ end, fromEndM }) => (fromEndM === undefined ? [] : [{ end, fromEndM }]));
  return {
    beacons: own.map(({ end, fromEndM }, i) => make(end, fromEndM, i === 0)),
    anchorM: new Map(own.map(({ end, fromEndM }) => [end.key, fromEndM])),
  };
}

/** A beacon inside one link, `awayM` from the node, that serves all the links that end there. */
function serve(ends: readonly LinkEnd[], inside: EndKey, awayM: number): EndPlan {
  const others = ends.filter(({ key }) => key !== inside);
  // Not −0: it would print as one.
  return { beacons: [], anchorM: new Map(others.map(({ key }) => [key, awayM === 0 ? 0 : -awayM])) };
}

/** Where a pin stands that belongs to a node: in one of its links that every drive passes. */
function findMoved({ at }: Pin, ends: readonly LinkEnd[], isServed: (link: Link) => boolean) {
  const own = ends
    .filter(({ link }) => link.id === at.linkId && isServed(link))
    .map(({ key, link, atStart }) => ({ key, awayM: atStart ? at.chainageM : link.lengthM - at.chainageM }));
  return own.sort((a, b) => a.awayM - b.awayM)[0];
}

/** The first place from an end into a link where a beacon may stand, metres from the end. */
function findFreeFromEnd(
  { link, atStart }: LinkEnd,
  { rules, driven, walls }: PlanInput,
  node: number,
  count: number,
): number | undefined {
  const isPortal = driven.open.has(node) && count === 1;
  const wantedM = isPortal ? Math.min(rules.portalOffsetM, link.lengthM / 2) : 0;
  const fromEnd = (intervals: readonly Interval[]): readonly Interval[] =>
    atStart ? intervals : intervals.map(([aM, bM]): Interval => [link.lengthM - bM, link.lengthM - aM]);
  const onWall = firstFree(wantedM, fromEnd(walls.listKeptOut(link)));
  const reachM = Math.min(link.lengthM / 2, Math.max(rules.spacingM, wantedM));
  // A wall that is closed for long is no reason to leave the end without: the other wall will do.
  const foundM = onWall <= reachM ? onWall : firstFree(wantedM, fromEnd(walls.listClosed(link)));
  // However far: without a beacon to begin from the rest of the link would get none.
  return foundM < link.lengthM ? foundM : undefined;
}

function firstFree(wantedM: number, keptOut: readonly Interval[]): number {
  const around = keptOut.find(([fromM, toM]) => wantedM > fromM && wantedM < toM);
  return around === undefined ? wantedM : around[1];
}

function roleOfEnd({ complex }: ComplexNetwork, osmNode: number): BeaconRole {
  if (complex.diverges.some((diverge) => diverge.osmNode === osmNode)) return 'decision';
  return complex.portals.some((portal) => portal.osmNode === osmNode) ? 'portal' : 'spacing';
}

/** Takes away the beacons of nodes that another one very near serves; diverges keep theirs where one of two may go. */
function shareNear(
  { network, driven, rules, pins }: PlanInput,
  ends: ReadonlyMap<number, readonly LinkEnd[]>,
  served: Served,
  plans: Map<number, EndPlan>,
): ReadonlySet<number> {
  const isDiverge = (node: number) => network.complex.diverges.some(({ osmNode }) => osmNode === node);
  const nodes = [...ends.keys()].sort((a, b) => Number(isDiverge(a)) - Number(isDiverge(b)) || a - b);
  const pinned = new Set(pins.map(({ id }) => id));
  const serving = new Set<number>();
  const gone = new Set<number>();
  for (const node of nodes) {
    const at = ends.get(node) ?? [];
    if (driven.open.has(node) || serving.has(node) || pinned.has(endBeaconId(node)) || at.length < 2)
      continue;
    const near = at
      .flatMap((end) => {
        const other = end.atStart ? end.link.toNode : end.link.fromNode;
        const anchorM = plans.get(other)?.anchorM.get(keyOfEnd(end.link, !end.atStart));
        if (other === node || gone.has(other) || anchorM === undefined) return [];
        return [{ end, other, awayM: end.link.lengthM - anchorM }];
      })
      .filter(
        ({ end, awayM }) =>
          awayM < Math.min(rules.closestM, rules.spacingM) && served(node, end.link, at.length),
      )
      .sort((a, b) => a.awayM - b.awayM || a.other - b.other)[0];
    if (near === undefined) continue;
    plans.set(node, serve(at, near.end.key, near.awayM));
    serving.add(near.other);
    gone.add(node);
  }
  return new Set([...serving, ...gone]);
}

/**
 * Where a branch is a little longer than the distance in which it has to be confirmed, the beacon of its far end comes
 * as near as that, if every driver through that end passes it there: it does for both.
 */
function moveForBranches(
  input: PlanInput,
  ends: ReadonlyMap<number, readonly LinkEnd[]>,
  served: Served,
  settled: ReadonlySet<number>,
  plans: Map<number, EndPlan>,
): void {
  const { network, driven, rules, pins, walls } = input;
  const pinned = new Set(pins.map(({ id }) => id));
  const moved = new Set(settled);
  for (const arc of listBranches(driven, network.complex.diverges)) {
    const link = driven.links[arc >> 1] as Link;
    const atStart = arc % 2 === 1;
    const node = atStart ? link.fromNode : link.toNode;
    const at = ends.get(node) ?? [];
    const [beacon, second] = plans.get(node)?.beacons ?? [];
    const overM = link.lengthM - rules.branchConfirmationM;
    const nearM = driven.open.has(node) ? rules.portalOffsetM + rules.portalToleranceM : rules.closestM;
    const mostM = Math.min(nearM, rules.spacingM);
    if (moved.has(node) || pinned.has(endBeaconId(node)) || !served(node, link, at.length)) continue;
    if (beacon === undefined || second !== undefined || overM <= AT_NODE_M || overM > mostM) continue;
    const chainageM = atStart ? overM : link.lengthM - overM;
    if (walls.listKeptOut(link).some(([fromM, toM]) => chainageM > fromM && chainageM < toM)) continue;
    const key = keyOfEnd(link, atStart);
    const plan = serve(at, key, overM);
    plans.set(node, {
      beacons: [{ ...beacon, linkId: link.id, chainageM }],
      anchorM: new Map([...plan.anchorM, [key, overM]]),
    });
    moved.add(node);
  }
}

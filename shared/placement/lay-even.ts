import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { Anchor, Beacon, BeaconId, BeaconRole, Pin } from './beacon.ts';
import type { Rules } from './rules.ts';
import { wallOffsetM } from './wall-offset.ts';

/** Rounding that must not add a beacon: 58 × 40 m is 2,320 m, not a hair more. */
const SLACK = 1e-9;

/**
 * The even method: a beacon at every end of a link (portal, diverge, merge), shared by the links that meet there,
 * and equal intervals between them, never above `rules.spacingM`. Pins stay; each stretch between two fixed
 * places is laid on its own. Restricted links get none but pins. Sorted by link and chainage.
 *
 * Common practice, no source: 2,300 m at 40 m gives 59 beacons, 58 intervals of 39.66 m.
 */
export function layEven(network: ComplexNetwork, rules: Rules, pins: readonly Pin[]): readonly Beacon[] {
  const links = network.links.filter((link) => !link.restricted);
  const nextId = makeIds(pins);
  const ends = layEnds(network, links, rules, pins, nextId);
  const beacons = links.flatMap((link) => layLink(network, link, rules, pins, ends, nextId));
  const others = network.links.filter((link) => link.restricted);
  beacons.push(...others.flatMap((link) => listPinned(link, rules, pins)));
  return beacons.sort(
    (a, b) => byText(a.at.linkId, b.at.linkId) || a.at.chainageM - b.at.chainageM || byText(a.id, b.id),
  );
}

/** What stands at an end node: a beacon of its own, or a pin that was moved away from it into one of the links. */
type End =
  | { readonly kind: 'beacon'; readonly id: BeaconId; readonly linkId: LinkId; readonly chainageM: number }
  | {
      readonly kind: 'moved';
      readonly linkId: LinkId;
      readonly chainageM: number;
      /** Metres along the bore from the end node. */
      readonly awayM: number;
    };

/** The id of the beacon that belongs to an end node. */
export function endBeaconId(osmNode: number): BeaconId {
  return `n${osmNode}` as BeaconId;
}

function layEnds(
  network: ComplexNetwork,
  links: readonly Link[],
  rules: Rules,
  pins: readonly Pin[],
  nextId: NextId,
): ReadonlyMap<number, End> {
  const ends = new Map<number, End>();
  for (const link of links) {
    for (const osmNode of [link.fromNode, link.toNode]) {
      if (ends.has(osmNode)) continue;
      const pin = pins.find((candidate) => candidate.id === endBeaconId(osmNode));
      const awayM = pin === undefined ? undefined : distanceFromEnd(network, pin, osmNode);
      if (pin !== undefined && awayM !== undefined && awayM <= rules.spacingM) {
        ends.set(osmNode, { kind: 'moved', ...pin.at, awayM });
        continue;
      }
      // Where the pin went too far to serve its old end, the end gets a beacon of its own again.
      const id = pin === undefined ? endBeaconId(osmNode) : nextId(`n${osmNode}.`);
      ends.set(osmNode, {
        kind: 'beacon',
        id,
        linkId: link.id,
        chainageM: link.fromNode === osmNode ? 0 : link.lengthM,
      });
    }
  }
  return ends;
}

/** Metres along the pin's link from the end node, or undefined where the link does not end there. */
function distanceFromEnd(network: ComplexNetwork, pin: Pin, osmNode: number): number | undefined {
  const link = network.links.find((candidate) => candidate.id === pin.at.linkId);
  if (link === undefined) return undefined;
  const distances = [
    ...(link.fromNode === osmNode ? [pin.at.chainageM] : []),
    ...(link.toNode === osmNode ? [link.lengthM - pin.at.chainageM] : []),
  ];
  return distances.length === 0 ? undefined : Math.min(...distances);
}

function layLink(
  network: ComplexNetwork,
  link: Link,
  rules: Rules,
  pins: readonly Pin[],
  ends: ReadonlyMap<number, End>,
  nextId: NextId,
): Beacon[] {
  const fixed = listPinned(link, rules, pins);
  for (const [osmNode, atM] of [[link.fromNode, 0] as const, [link.toNode, link.lengthM] as const]) {
    const end = ends.get(osmNode);
    if (end?.kind !== 'beacon' || end.linkId !== link.id || end.chainageM !== atM) continue;
    fixed.push(make(link, rules, end.id, atM, roleOfEnd(network, osmNode)));
  }
  const anchors = listAnchors(link, pins, ends);
  const places = between(anchors, rules.spacingM).map((m) => Math.min(link.lengthM, Math.max(0, m)));
  const laid = places.map((chainageM, i) =>
    make(
      link,
      rules,
      nextId(`${link.id}.`),
      chainageM,
      roleBetween(network, link, i === 0, i === places.length - 1),
    ),
  );
  return [...fixed, ...laid];
}

function listPinned(link: Link, rules: Rules, pins: readonly Pin[]): Beacon[] {
  return pins
    .filter((pin) => pin.at.linkId === link.id)
    .map((pin) => make(link, rules, pin.id, pin.at.chainageM, 'manual', pin.anchor));
}

/**
 * The fixed chainages of a link in order. Where the beacon of an end was moved away, into another link or round
 * a loop that ends where it begins, that end counts as if it stood as far outside of this link.
 */
function listAnchors(link: Link, pins: readonly Pin[], ends: ReadonlyMap<number, End>): readonly number[] {
  const anchors = pins.filter((pin) => pin.at.linkId === link.id).map((pin) => pin.at.chainageM);
  const from = ends.get(link.fromNode);
  const to = ends.get(link.toNode);
  const isLoop = link.fromNode === link.toNode;
  const isInside = (end: End, atStart: boolean) =>
    end.linkId === link.id && (!isLoop || end.chainageM <= link.lengthM / 2 === atStart);
  if (from?.kind === 'beacon') anchors.push(0);
  else if (from !== undefined && !isInside(from, true)) anchors.push(-from.awayM);
  if (to?.kind === 'beacon') anchors.push(link.lengthM);
  else if (to !== undefined && !isInside(to, false)) anchors.push(link.lengthM + to.awayM);
  return anchors.sort((a, b) => a - b);
}

function between(anchors: readonly number[], spacingM: number): number[] {
  return anchors.slice(1).flatMap((endM, i) => {
    const startM = anchors[i] as number;
    const intervals = Math.max(1, Math.ceil((endM - startM) / spacingM - SLACK));
    const stepM = (endM - startM) / intervals;
    return Array.from({ length: intervals - 1 }, (_, k) => startM + stepM * (k + 1));
  });
}

function roleOfEnd(network: ComplexNetwork, osmNode: number): BeaconRole {
  if (network.complex.diverges.some((diverge) => diverge.osmNode === osmNode)) return 'decision';
  return network.complex.portals.some((portal) => portal.osmNode === osmNode) ? 'portal' : 'spacing';
}

/** The first beacon past a fork tells which branch the driver took. */
function roleBetween(network: ComplexNetwork, link: Link, isFirst: boolean, isLast: boolean): BeaconRole {
  const isDiverge = (osmNode: number) =>
    network.complex.diverges.some(
      (diverge) =>
        diverge.osmNode === osmNode && diverge.branches.some((branch) => branch.linkId === link.id),
    );
  const confirms =
    (isFirst && isDiverge(link.fromNode)) ||
    (isLast && link.direction !== 'forward' && isDiverge(link.toNode));
  return confirms ? 'branch' : 'spacing';
}

type NextId = (prefix: string) => BeaconId;

/** Numbers beacons upwards, leaving out what the pins carry; ids stay the same as long as the layout does. */
function makeIds(pins: readonly Pin[]): NextId {
  const taken = new Set<string>(pins.map((pin) => pin.id));
  const last = new Map<string, number>();
  return (prefix) => {
    let number = (last.get(prefix) ?? 0) + 1;
    while (taken.has(`${prefix}${number}`)) number += 1;
    last.set(prefix, number);
    return `${prefix}${number}` as BeaconId;
  };
}

function make(
  link: Link,
  rules: Rules,
  id: BeaconId,
  chainageM: number,
  role: BeaconRole,
  pinnedBy?: Anchor,
): Beacon {
  return {
    id,
    at: { linkId: link.id, chainageM },
    anchor: pinnedBy ?? 'chainage',
    role,
    side: 'right',
    offsetM: wallOffsetM(link, chainageM, rules, 'right'),
    heightM: rules.mountingHeightM,
    locked: pinnedBy !== undefined,
  };
}

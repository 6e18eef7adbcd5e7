import type { ComplexNetwork, Link } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { Beacon, BeaconId, BeaconRole, Pin, Wall } from './beacon.ts';
import { makeWalls } from './choose-walls.ts';
import { confirmBranches } from './confirm-branches.ts';
import { listDrivenArcs } from './driven-arcs.ts';
import type { Interval, KeepOut } from './keep-out.ts';
import { findFreePlace, layStretch } from './lay-stretch.ts';
import { limitSpacing, type SpacingLimit } from './limit-spacing.ts';
import { makeIds, type NextId } from './make-ids.ts';
import { measureSplits, type Splits } from './measure-splits.ts';
import { type EndPlan, keyOfEnd, planEnds } from './plan-ends.ts';
import { planWalls, type WallPlan } from './plan-walls.ts';
import type { Rules } from './rules.ts';
import { wallOffsetM } from './wall-offset.ts';

/** What is laid: the network, what is asked for, and what people put into it. */
export type LayoutInput = {
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  readonly pins: readonly Pin[];
  readonly keepOuts: readonly KeepOut[];
  /** How far along the bores a beacon at a place is heard, metres. */
  radiusM(link: Link, chainageM: number): number;
};

/** What every link is laid with. */
type Plan = LayoutInput & {
  readonly splits: Splits;
  readonly walls: WallPlan;
  readonly ends: ReadonlyMap<number, EndPlan>;
  readonly limits: readonly SpacingLimit[];
  readonly nextId: NextId;
};

/** Rounding that must not break a rule, metres. */
const SLACK_M = 1e-6;
/** Places that are nearer to each other are one, metres. */
const SAME_M = 1e-3;

/**
 * The even method: a beacon at every end of a link (portal, diverge, merge), shared by the links that meet there,
 * where an approach to a fork begins that needs closer ones, and where a branch must be confirmed; between them equal
 * intervals, never above the spacing, nor above what the coverage depth asks for. Pins stay; each stretch between two
 * fixed places is laid on its own, around the keep-outs. Restricted links get none but pins. Sorted by link and
 * chainage.
 *
 * Common practice, no source: 2,300 m at 40 m gives 59 beacons, 58 intervals of 39.66 m.
 */
export function layEven(input: LayoutInput): readonly Beacon[] {
  const { network, rules, pins, keepOuts } = input;
  const driven = listDrivenArcs(network);
  const splits = measureSplits(driven.links, rules);
  const walls = planWalls(rules, makeWalls(network.links, rules, splits), splits, keepOuts);
  const nextId = makeIds(pins);
  const ends = planEnds({ network, driven, rules, pins, walls, nextId });
  const limits = limitSpacing(network, driven, rules);
  const plan: Plan = { ...input, splits, walls, ends, limits, nextId };
  const beacons = driven.links.flatMap((link) => layLink(plan, link));
  const others = network.links.filter((link) => link.restricted);
  beacons.push(...others.flatMap((link) => listPinned(plan, link)));
  return beacons.sort(
    (a, b) => byText(a.at.linkId, b.at.linkId) || a.at.chainageM - b.at.chainageM || byText(a.id, b.id),
  );
}

/** The greatest interval that keeps the spacing and the coverage depth on a link, metres. */
export function maxIntervalM({ rules, radiusM }: LayoutInput, link: Link): number {
  const { spacingM, coverageDepth } = rules;
  const heardM = Math.min(...link.stretches.map(({ fromM, toM }) => radiusM(link, (fromM + toM) / 2)));
  // Between two beacons, and at a portal, where the one there has the others on one side only.
  const atPortalM =
    coverageDepth === 1
      ? Number.POSITIVE_INFINITY
      : Math.max(1, heardM - rules.portalOffsetM) / (coverageDepth - 1);
  const deepM = Math.min((2 * heardM) / coverageDepth, atPortalM);
  return Math.min(spacingM, deepM);
}

function layLink(plan: Plan, link: Link): Beacon[] {
  const placesM = listChainages(plan, link);
  const pinned = listPinned(plan, link);
  const taken = [...plan.ends.values()]
    .flatMap(({ beacons }) => beacons)
    .filter(({ linkId }) => linkId === link.id);
  const own = taken.flatMap(({ id, chainageM, role }) => makeBoth(plan, link, chainageM, 0, role, () => id));
  const laid = placesM.flatMap((chainageM, i) => {
    const role = roleBetween(plan.network, link, i === 0, i === placesM.length - 1);
    return makeBoth(plan, link, chainageM, i + 1, role, () => plan.nextId(`${link.id}.`));
  });
  return [...pinned, ...own, ...laid];
}

/** The chainages between the ends of a link, pins left out, in order. */
function listChainages(plan: Plan, link: Link): readonly number[] {
  const fixed = listFixed(plan, link);
  const lay = (compulsory: readonly number[], keptOut: readonly Interval[]): readonly number[] => {
    const free = (place: number) => findFreePlace(place, link.lengthM, keptOut) ?? [];
    const added = distinct(compulsory.flatMap(free)).filter(
      (place) => !fixed.some((one) => Math.abs(one - place) < SAME_M),
    );
    const anchors = [...fixed, ...added].sort((a, b) => a - b);
    const between = anchors.slice(1).flatMap((toM, i) => {
      const fromM = anchors[i] as number;
      return layStretch(fromM, toM, spacingBetween(plan, link, fromM, toM), keptOut, isDrawnBackwards(link));
    });
    // Where an interval that begins beyond the link ends before it, the beacon stands at the link's end, if it may.
    const inside = [...between, ...added].map((m) => Math.min(link.lengthM, Math.max(0, m)));
    return distinct(inside.flatMap(free));
  };
  const layAll = (keptOut: readonly Interval[]) => {
    const closer = listCloser(plan, link);
    const first = lay(closer, keptOut);
    const laid = { link, fixed, places: first, maxIntervalM: maxIntervalM(plan, link) };
    const confirming = confirmBranches(plan, laid);
    return confirming.length === 0 ? first : lay([...closer, ...confirming], keptOut);
  };
  const keptOut = plan.walls.listKeptOut(link);
  const places = layAll(keptOut);
  const limitM = maxIntervalM(plan, link) + SLACK_M;
  if (keptOut.length === 0 || longest([...fixed, ...places]) <= limitM) return places;
  // Along the wall that the rules ask for the spacing cannot be kept: some cross over.
  return layAll(plan.walls.listClosed(link));
}

/** What stands already: pins, and the beacons at both ends, some of them beyond. */
function listFixed({ pins, ends }: Plan, link: Link): readonly number[] {
  const from = ends.get(link.fromNode)?.anchorM.get(keyOfEnd(link, true));
  const to = ends.get(link.toNode)?.anchorM.get(keyOfEnd(link, false));
  return [
    ...pins.filter(({ at }) => at.linkId === link.id).map(({ at }) => at.chainageM),
    ...(from === undefined ? [] : [from]),
    ...(to === undefined ? [] : [link.lengthM - to]),
  ].sort((a, b) => a - b);
}

/** Where stretches begin and end inside a link that need closer beacons than the rest of it. */
function listCloser(plan: Plan, link: Link): readonly number[] {
  const widestM = maxIntervalM(plan, link);
  return plan.limits
    .filter(({ linkId, spacingM }) => linkId === link.id && spacingM < widestM)
    .flatMap(({ fromM, toM }) => [fromM, toM])
    .filter((m) => m > SLACK_M && m < link.lengthM - SLACK_M);
}

function spacingBetween(plan: Plan, link: Link, fromM: number, toM: number): number {
  const here = plan.limits.filter(
    (limit) => limit.linkId === link.id && limit.fromM < toM - SLACK_M && limit.toM > fromM + SLACK_M,
  );
  return Math.min(maxIntervalM(plan, link), ...here.map(({ spacingM }) => spacingM));
}

/** Places in order, those that differ by rounding only once. */
function distinct(places: readonly number[]): readonly number[] {
  const sorted = [...places].sort((a, b) => a - b);
  return sorted.filter((m, i) => i === 0 || m - (sorted[i - 1] as number) >= SAME_M);
}

function longest(places: readonly number[]): number {
  const sorted = [...places].sort((a, b) => a - b);
  return sorted.slice(1).reduce((most, m, i) => Math.max(most, m - (sorted[i] as number)), 0);
}

/** Whether a link is drawn from its greater end node to its lesser one: a choice between equals must not hang on it. */
function isDrawnBackwards({ nodes }: Link): boolean {
  for (let i = 0; i < nodes.length / 2; i += 1) {
    const [first, last] = [nodes[i] as number, nodes[nodes.length - 1 - i] as number];
    if (first !== last) return first > last;
  }
  return false;
}

function listPinned(plan: Plan, link: Link): Beacon[] {
  const own = plan.pins.filter((pin) => pin.at.linkId === link.id);
  return own.flatMap((pin) => {
    const wall = pin.wall ?? plan.walls.choose(link, pin.at.chainageM, 0);
    const beacon = make(plan, link, pin.at.chainageM, wall, 'manual', pin.id);
    const { anchor, radiusM } = pin;
    const pinned = { ...beacon, anchor, locked: true, ...(radiusM === undefined ? {} : { radiusM }) };
    const second = plan.walls.chooseSecond(link, pin.at.chainageM, wall);
    // Where somebody put one on the other wall near by, that one is its pair.
    const hasPair = own.some(
      (other) =>
        other.wall === second && Math.abs(other.at.chainageM - pin.at.chainageM) < plan.rules.closestM,
    );
    if (second === undefined || hasPair) return [pinned];
    return [pinned, make(plan, link, pin.at.chainageM, second, 'spacing', plan.nextId(`${pin.id}.`))];
  });
}

/** The beacon of a place, and where the rules want both walls the one opposite. */
function makeBoth(
  plan: Plan,
  link: Link,
  chainageM: number,
  turn: number,
  role: BeaconRole,
  giveId: () => BeaconId,
): Beacon[] {
  const wall = plan.walls.choose(link, chainageM, turn);
  const id = giveId();
  const second = plan.walls.chooseSecond(link, chainageM, wall);
  return [
    make(plan, link, chainageM, wall, role, id),
    ...(second === undefined ? [] : [make(plan, link, chainageM, second, role, plan.nextId(`${id}.`))]),
  ];
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

function make(
  { rules }: Plan,
  link: Link,
  chainageM: number,
  wall: Wall,
  role: BeaconRole,
  id: BeaconId,
): Beacon {
  return {
    id,
    at: { linkId: link.id, chainageM },
    anchor: 'chainage',
    role,
    side: wall,
    offsetM: wallOffsetM(link, chainageM, rules, wall),
    heightM: rules.mountingHeightM,
    locked: false,
  };
}

import type { Link, LinkId } from '../../network/network.ts';
import { byText } from '../../outcome/by-text.ts';
import { otherWall, type Pin, type Wall } from '../beacon.ts';
import type { Walls } from '../choose-walls.ts';
import type { ArcNumber, DrivenArcs } from '../driven-arcs.ts';
import { type KeepOut, makeKeptOut } from '../keep-out.ts';
import { findEndNode } from '../list-places.ts';
import type { Rules } from '../rules.ts';
import type { Candidate } from './question.ts';

/** Candidates stand no farther apart than this where they are free, metres (project default). */
const STEP_M = 5;
/** Places that are nearer to each other are one, metres. */
const SAME_M = 1e-6;

export type CandidateInput = {
  readonly driven: DrivenArcs;
  readonly allLinks: readonly Link[];
  readonly rules: Rules;
  readonly pins: readonly Pin[];
  readonly keepOuts: readonly KeepOut[];
  readonly radiusM: (link: Link, chainageM: number) => number;
  readonly walls: Walls;
  /** The arcs that leave each fork. */
  readonly branches: readonly ArcNumber[];
  /** Places that are to be among the candidates wherever they are free. */
  readonly alsoAt: ReadonlyMap<LinkId, readonly number[]>;
};
type KeptOut = ReturnType<typeof makeKeptOut>;

/**
 * Lists where beacons may stand, by link and chainage: the nodes where links end, once for all links that meet there;
 * on every link equally divided places at most 5 m apart; what the rules name (portals, keep-outs' ends, the places
 * past a fork); and the pins. What is kept out on both walls is left out; what is too near past a fork to tell the
 * branches apart is marked.
 */
export function listCandidates(input: CandidateInput): readonly Candidate[] {
  const { driven, allLinks, pins } = input;
  const byId = new Map(driven.links.map((link) => [link.id, link]));
  const nodeOf = ({ at }: Pin) => findEndNode(byId.get(at.linkId), at.chainageM);
  const pinned = new Set(pins.map(nodeOf));
  const done = new Set<number>();
  const keptOut = makeKeptOut(input.keepOuts);
  const candidates: Candidate[] = [];
  for (const link of driven.links) {
    const own = pins.filter(({ at }) => at.linkId === link.id);
    for (const [node, chainageM] of [[link.fromNode, 0] as const, [link.toNode, link.lengthM] as const]) {
      if (done.has(node) || pinned.has(node)) continue;
      // Where one link is kept out at the node, the next one may carry the beacon.
      const free = toFree(input, keptOut, link, chainageM, node);
      if (free.length > 0) done.add(node);
      candidates.push(...free);
    }
    const taken = own.map(({ at }) => at.chainageM);
    for (const { atM, isShy } of listPlacesOf(input, link)) {
      if (taken.some((takenM) => Math.abs(takenM - atM) < SAME_M)) continue;
      for (const free of toFree(input, keptOut, link, atM))
        candidates.push(isShy ? { ...free, isShy } : free);
    }
    for (const pin of own) candidates.push(toPinned(input, keptOut, link, pin, nodeOf(pin)));
  }
  const others = allLinks.filter((link) => link.restricted);
  for (const link of others) {
    for (const pin of pins)
      if (pin.at.linkId === link.id) candidates.push(toPinned(input, keptOut, link, pin));
  }
  return candidates.sort(
    (a, b) =>
      byText(a.linkId, b.linkId) || a.chainageM - b.chainageM || byText(a.pin?.id ?? '', b.pin?.id ?? ''),
  );
}

/** How near past the start of a branch no beacon may stand, so that it is not heard far into a sister branch, metres. */
function clearOf({ driven, rules, radiusM }: CandidateInput, arc: ArcNumber): number {
  const link = driven.links[arc >> 1] as Link;
  const heardM = radiusM(link, arc % 2 === 0 ? 0 : link.lengthM) - rules.forkOverlapM;
  const clearM = Math.max(0, Math.min(heardM, rules.branchConfirmationM, rules.spacingM));
  return link.lengthM > clearM ? clearM : 0;
}

function toFree(
  input: CandidateInput,
  keptOut: KeptOut,
  link: Link,
  chainageM: number,
  node?: number,
): Candidate[] {
  const { at, isMouth } = input.walls;
  const first = at(link.id, chainageM);
  const second = otherWall(first);
  const order: readonly Wall[] = isMouth(link.id, chainageM, second) ? [first] : [first, second];
  const walls = order.filter((wall) => isFree(keptOut, link, chainageM, wall));
  if (walls.length < (input.rules.side === 'both' ? 2 : 1)) return [];
  const radiusM = input.radiusM(link, chainageM);
  return [{ linkId: link.id, chainageM, walls, radiusM, ...(node === undefined ? {} : { node }) }];
}

function isFree(keptOut: KeptOut, link: Link, chainageM: number, wall: Wall): boolean {
  return !keptOut(link, wall).some(([fromM, toM]) => chainageM > fromM && chainageM < toM);
}

/** A person's beacon stays on its wall; the second one is for its pair, where the rules want both and it can be there. */
function toPinned(input: CandidateInput, keptOut: KeptOut, link: Link, pin: Pin, node?: number): Candidate {
  const { chainageM } = pin.at;
  const own = pin.wall ?? input.walls.at(link.id, chainageM);
  const second = otherWall(own);
  const hasSecond =
    input.rules.side === 'both' &&
    !link.restricted &&
    isFree(keptOut, link, chainageM, second) &&
    !input.walls.isMouth(link.id, chainageM, second);
  return {
    linkId: link.id,
    chainageM,
    walls: hasSecond ? [own, second] : [own],
    radiusM: pin.radiusM ?? input.radiusM(link, chainageM),
    pin,
    ...(node === undefined || link.restricted ? {} : { node }),
  };
}

type Place = { readonly atM: number; readonly isShy: boolean };

/** The chainages between the ends of a link, ascending; of those that are one, what the rules name comes first. */
function listPlacesOf(input: CandidateInput, link: Link): readonly Place[] {
  const { rules, driven, keepOuts, branches, alsoAt } = input;
  const { id, lengthM } = link;
  const number = driven.links.indexOf(link);
  const [clearM = 0, clearAtEndM = 0] = [2 * number, 2 * number + 1].map((arc) =>
    branches.includes(arc) ? clearOf(input, arc) : 0,
  );
  const offsetM = Math.min(rules.portalOffsetM, lengthM / 2);
  const named = [
    ...keepOuts.filter(({ linkId }) => linkId === id).flatMap(({ fromM, toM }) => [fromM, toM]),
    ...(driven.open.has(link.fromNode) ? [offsetM] : []),
    ...(driven.open.has(link.toNode) ? [lengthM - offsetM] : []),
    clearM,
    lengthM - clearAtEndM,
  ];
  const ranked = [named, alsoAt.get(id) ?? [], divide(lengthM, rules.spacingM)].flatMap((places, rank) =>
    places.map((atM) => ({ atM, rank })),
  );
  const places: { atM: number; rank: number }[] = [];
  for (const one of ranked.sort((a, b) => a.atM - b.atM || a.rank - b.rank)) {
    const last = places.at(-1);
    if (one.atM <= SAME_M || one.atM >= lengthM - SAME_M) continue;
    if (last === undefined || one.atM - last.atM >= SAME_M) places.push(one);
    else if (one.rank < last.rank) places[places.length - 1] = one;
  }
  return places.map(({ atM }) => ({
    atM,
    isShy: atM < clearM - SAME_M || atM > lengthM - clearAtEndM + SAME_M,
  }));
}

/** Places that divide the intervals of the even method again, so that none of them is lost by rounding. */
function divide(lengthM: number, spacingM: number): number[] {
  const intervals = Math.max(1, Math.ceil(lengthM / spacingM - 1e-9));
  const parts = intervals * Math.ceil(lengthM / intervals / STEP_M - 1e-9);
  return Array.from({ length: parts - 1 }, (_, i) => (lengthM * (i + 1)) / parts);
}

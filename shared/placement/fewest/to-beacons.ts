import type { ComplexNetwork, Link, LinkId } from '../../network/network.ts';
import { byText } from '../../outcome/by-text.ts';
import { type Beacon, type BeaconId, type BeaconRole, otherWall, type Wall } from '../beacon.ts';
import { makeIds, type NextId } from '../make-ids.ts';
import { endBeaconId } from '../plan-ends.ts';
import type { Rules } from '../rules.ts';
import type { Solution } from '../solution.ts';
import { wallOffsetM } from '../wall-offset.ts';
import type { Candidate, Question } from './question.ts';

/** Makes the beacons of a choice of candidates (numbers, ascending), sorted by link and chainage. */
export function toBeacons(
  network: ComplexNetwork,
  rules: Rules,
  question: Question,
  chosen: readonly number[],
): readonly Beacon[] {
  const links = new Map(network.links.map((link) => [link.id, link]));
  const pins = question.candidates.flatMap(({ pin }) => (pin === undefined ? [] : [pin]));
  const toId = makeNames(question, makeIds(pins));
  const toRole = makeRoles(network, question, chosen);
  const beacons = listMounted(question, chosen, rules).map(({ number, wall, copy }): Beacon => {
    const candidate = question.candidates[number] as Candidate;
    const { linkId, chainageM } = candidate;
    // The one opposite a beacon that a person put somewhere is laid like any other.
    const pin = copy === 0 ? candidate.pin : undefined;
    return {
      id: toId(number, copy),
      at: { linkId, chainageM },
      anchor: pin?.anchor ?? 'chainage',
      role: toRole(number, copy),
      side: wall,
      offsetM: wallOffsetM(links.get(linkId) as Link, chainageM, rules, wall),
      heightM: rules.mountingHeightM,
      locked: pin !== undefined,
      ...(pin?.radiusM === undefined ? {} : { radiusM: pin.radiusM }),
    };
  });
  return beacons.sort(
    (a, b) => byText(a.at.linkId, b.at.linkId) || a.at.chainageM - b.at.chainageM || byText(a.id, b.id),
  );
}

/** The places of a choice of candidates, as a solution stores them. */
export function toPlaces(question: Question, chosen: readonly number[], rules: Rules): Solution['places'] {
  return listMounted(question, chosen, rules).map(({ number, wall }) => {
    const { linkId, chainageM } = question.candidates[number] as Candidate;
    return { linkId, chainageM, wall };
  });
}

/** The candidates that stored places name, ascending; undefined where one of them is no candidate on that wall. */
export function findChosen(question: Question, places: Solution['places']): readonly number[] | undefined {
  const known = new Map(question.candidates.map((one, i) => [keyOf(one), i]));
  const chosen = new Set<number>();
  for (const place of places) {
    const number = known.get(keyOf(place));
    if (number === undefined) return undefined;
    if (!question.candidates[number]?.walls.includes(place.wall)) return undefined;
    chosen.add(number);
  }
  // Pins may share a place: they are there whatever is chosen.
  for (const number of question.fixed) if (question.candidates[number]?.pin !== undefined) chosen.add(number);
  return [...chosen].sort((a, b) => a - b);
}

function keyOf({ linkId, chainageM }: { readonly linkId: LinkId; readonly chainageM: number }): string {
  return `${linkId} ${chainageM}`;
}

type Mounted = { readonly number: number; readonly wall: Wall; readonly copy: 0 | 1 };

/** Which wall each chosen candidate is on: the one that the rules name where it is free, in turn or both where they ask. */
function listMounted(question: Question, chosen: readonly number[], rules: Rules): readonly Mounted[] {
  const turns = new Map<LinkId, number>();
  return chosen.flatMap((number): Mounted[] => {
    const { linkId, walls, pin } = question.candidates[number] as Candidate;
    const turn = turns.get(linkId) ?? 0;
    turns.set(linkId, turn + 1);
    const first = walls[0] as Wall;
    if (pin !== undefined) {
      const second = walls[1];
      const isSingle = second === undefined || hasPair(question, number, second, rules.closestM);
      return [
        { number, wall: first, copy: 0 },
        ...(isSingle ? [] : [{ number, wall: second, copy: 1 as const }]),
      ];
    }
    if (rules.side === 'both') return walls.map((wall, i) => ({ number, wall, copy: i === 0 ? 0 : 1 }));
    const wanted = rules.side === 'alternate' && turn % 2 === 1 ? otherWall(first) : first;
    return [{ number, wall: walls.includes(wanted) ? wanted : first, copy: 0 }];
  });
}

/** Whether a person put a beacon on the other wall near by: then that one stands opposite. */
function hasPair({ candidates, fixed }: Question, number: number, second: Wall, closestM: number): boolean {
  const { linkId, chainageM } = candidates[number] as Candidate;
  return fixed.some((i) => {
    const { pin, linkId: otherId, chainageM: otherM } = candidates[i] as Candidate;
    return pin?.wall === second && otherId === linkId && Math.abs(otherM - chainageM) < closestM;
  });
}

/** The names of the nodes' and portals' beacons are those of the even method. */
function makeNames(question: Question, nextId: NextId): (number: number, copy: 0 | 1) => BeaconId {
  const portalOf = new Map(question.portals.map(({ candidate, node }) => [candidate, node]));
  const portalNodes = new Set(portalOf.values());
  const taken = new Set<string>(
    question.candidates.flatMap(({ pin }) => (pin === undefined ? [] : [pin.id])),
  );
  return (number, copy) => {
    const { linkId, node, pin } = question.candidates[number] as Candidate;
    if (pin !== undefined) return copy === 0 ? pin.id : nextId(`${pin.id}.`);
    const own = node ?? portalOf.get(number);
    if (own === undefined || copy === 1) return nextId(`${linkId}.`);
    const id = endBeaconId(own);
    // A portal's beacon inside the bore has the portal's name, one at the very mouth beside it another.
    const isSecond = node !== undefined && !portalOf.has(number) && portalNodes.has(node);
    return taken.has(id) || isSecond ? nextId(`n${own}.`) : id;
  };
}

function makeRoles(
  { complex, links }: ComplexNetwork,
  question: Question,
  chosen: readonly number[],
): (number: number, copy: 0 | 1) => BeaconRole {
  const { candidates } = question;
  const portals = new Set(question.portals.map(({ candidate }) => candidate));
  const diverges = new Set(complex.diverges.map(({ osmNode }) => osmNode));
  const branching = new Set(
    complex.diverges.flatMap(({ osmNode, branches }) => branches.map(({ linkId }) => `${osmNode} ${linkId}`)),
  );
  const confirming = new Set<number>();
  for (const { id, fromNode, toNode, direction } of links) {
    const own = chosen.filter((i) => candidates[i]?.linkId === id && candidates[i]?.node === undefined);
    if (branching.has(`${fromNode} ${id}`)) confirming.add(own[0] ?? -1);
    if (direction !== 'forward' && branching.has(`${toNode} ${id}`)) confirming.add(own.at(-1) ?? -1);
  }
  return (number, copy) => {
    const { pin, node } = candidates[number] as Candidate;
    if (pin !== undefined) return copy === 0 ? 'manual' : 'spacing';
    if (node !== undefined && diverges.has(node)) return 'decision';
    if (portals.has(number)) return 'portal';
    return confirming.has(number) ? 'branch' : 'spacing';
  };
}

import type { LineAddress } from '../alignment/line-address.ts';
import {
  type Carried,
  type CarryAddress,
  makeCarryAddress,
  makeCarryStretch,
} from '../network/carry-address.ts';
import { indexComplexes, listCommonComplexes } from '../network/keep-identity.ts';
import type { LinkPiece } from '../network/match-links.ts';
import type { Complex, ComplexId, Link, LinkId, TunnelNetwork } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import { type BeaconId, otherWall, type Pin } from '../placement/beacon.ts';
import { endBeaconId } from '../placement/plan-ends.ts';
import { replay } from './apply-command.ts';
import { type CarriedKeepOut, carryKeepOuts } from './carry-keep-outs.ts';
import { type Carry, makeScheme, type Scheme, type SchemeRules } from './scheme.ts';

/** Where one moved beacon went; `to` is absent where its bore is gone. */
export type CarriedPin = {
  readonly complexId: ComplexId;
  readonly id: BeaconId;
  readonly from: LineAddress;
  readonly to?: { readonly complexId: ComplexId; readonly id: BeaconId; readonly kept: Carried['kept'] };
};

export type CarriedSchemes = {
  /** Whether a complex rests on the same links as before. */
  isSame(id: ComplexId): boolean;
  /** The complexes that each complex is the same as for a good part, the greatest part first. */
  readonly donors: ReadonlyMap<ComplexId, readonly ComplexId[]>;
  /**
   * Every scheme of the survey as it is now, sorted by complex; those of complexes that are gone rest, for the case
   * that they come back.
   */
  readonly schemes: readonly Scheme[];
  readonly pins: readonly CarriedPin[];
  /** The keep-outs of every tunnel that did not stay as it was. */
  readonly keepOuts: readonly CarriedKeepOut[];
  /** Complexes whose rules hold although another tunnel that they took in had others. */
  readonly rulesDiffer: readonly { readonly complexId: ComplexId; readonly otherId: ComplexId }[];
};

/**
 * Carries the schemes of a survey over to another state of its network. A tunnel that stayed as it was keeps its
 * scheme untouched; one that became another gets one line more in its log, which holds the whole content, so that
 * edits made before cannot be sent or taken back unseen. Rules: the tunnel's own, for one that is new those of the
 * tunnel that it came from. Moved beacons keep their chainage or place (carry-address.ts) wherever their bore is
 * now, and their id unless another tunnel needs it. Keep-outs keep their place (carry-keep-outs.ts).
 *
 * @param after under the kept ids, as the pieces (keep-identity.ts).
 * @param commandId id of the survey's command that changed the network.
 */
export function carrySchemes(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
  schemes: readonly Scheme[],
  commandId: string,
): CarriedSchemes {
  const stored = new Map(schemes.map((scheme) => [scheme.complexId, scheme]));
  const shapes = { before: describeShapes(before), after: describeShapes(after) };
  const isSame = (id: ComplexId) => shapes.before.get(id) === shapes.after.get(id);
  const live = schemes
    .filter(({ complexId }) => shapes.before.has(complexId))
    .sort((a, b) => byText(a.complexId, b.complexId));
  const placed = placePins(after, live, makeCarryAddress(before.links, after.links, pieces), isSame);
  const kept = carryKeepOuts(
    live,
    makeCarryStretch(before.links, after.links, pieces),
    indexComplexes(after),
    isSame,
  );
  const donors = listDonors(before, after, pieces);
  const rulesDiffer: CarriedSchemes['rulesDiffer'][number][] = [];
  for (const { id } of after.complexes) {
    const from = donors.get(id) ?? [];
    if (isSame(id) || (!shapes.before.has(id) && !stored.has(id) && from.length === 0)) continue;
    const own = stored.get(id);
    const source = own === undefined && !shapes.before.has(id) ? stored.get(from[0] as ComplexId) : own;
    const rules = source?.rules ?? {};
    for (const otherId of from) {
      if (otherId !== id && !areEqual(rules, stored.get(otherId)?.rules ?? {})) {
        rulesDiffer.push({ complexId: id, otherId });
      }
    }
    const pinned = placed.pinned.get(id) ?? [];
    const keepOuts = kept.keepOuts.get(id) ?? [];
    stored.set(id, append(own ?? makeScheme(id), { kind: 'carry', commandId, rules, pinned, keepOuts }));
  }
  const sorted = [...stored.values()].sort((a, b) => (a.complexId < b.complexId ? -1 : 1));
  return { isSame, donors, schemes: sorted, pins: placed.pins, keepOuts: kept.carried, rulesDiffer };
}

function append(scheme: Scheme, carry: Carry): Scheme {
  const log = [...scheme.log, carry];
  return { complexId: scheme.complexId, revision: scheme.revision + 1, log, ...replay(log) };
}

type PlacedPins = {
  readonly pins: readonly CarriedPin[];
  readonly pinned: ReadonlyMap<ComplexId, readonly Pin[]>;
};

/** Every moved beacon at its place in the other state, grouped by the complex that it is in there. */
function placePins(
  after: TunnelNetwork,
  schemes: readonly Scheme[],
  carry: CarryAddress,
  isSame: (id: ComplexId) => boolean,
): PlacedPins {
  const complexOf = indexComplexes(after);
  const isFree = makeIdCheck(after, complexOf);
  const pinned = new Map<ComplexId, Pin[]>();
  // What stays goes first: its beacons keep their ids whoever comes.
  const ordered = [...schemes].sort((a, b) => Number(isSame(b.complexId)) - Number(isSame(a.complexId)));
  const pins = ordered.flatMap(({ complexId, pinned: own }) =>
    own.map((pin): CarriedPin => {
      const from = { complexId, id: pin.id, from: pin.at };
      const found = isSame(complexId)
        ? ({ to: pin.at, kept: pin.anchor === 'position' ? 'place' : 'chainage', isTurned: false } as const)
        : carry(pin.at, pin.anchor);
      const target = found && complexOf.get(found.to.linkId);
      // What stayed as it was keeps its scheme untouched: nothing can come into it.
      if (found === undefined || target === undefined || (isSame(target) && target !== complexId))
        return from;
      const id = isFree(pin.id, target) ? pin.id : nameMoved(found.to.linkId, target, isFree);
      // The wall is the same one of the bore, whichever way the link runs now.
      const wall = pin.wall && found.isTurned ? { wall: otherWall(pin.wall) } : {};
      pinned.set(target, [...(pinned.get(target) ?? []), { ...pin, id, at: found.to, ...wall }]);
      return { ...from, to: { complexId: target, id, kept: found.kept } };
    }),
  );
  return { pins, pinned };
}

type IdCheck = (id: BeaconId, complexId: ComplexId) => boolean;

/**
 * Whether a beacon of a complex may have an id: no other moved beacon has been given it, and no other complex lays
 * beacons under it, as the one does whose link or end node the id names. Each id is given once.
 */
function makeIdCheck(network: TunnelNetwork, complexOf: ReadonlyMap<LinkId, ComplexId>): IdCheck {
  const given = new Set<BeaconId>();
  const ends = new Map<string, Set<ComplexId>>();
  for (const { id, fromNode, toNode } of network.links) {
    for (const node of [fromNode, toNode]) {
      const complexes = ends.get(endBeaconId(node)) ?? new Set<ComplexId>();
      ends.set(endBeaconId(node), complexes.add(complexOf.get(id) as ComplexId));
    }
  }
  return (id, complexId) => {
    const stem = id.replace(/\.[^.]*$/, '');
    const owners = [complexOf.get(stem as LinkId), ...(ends.get(stem) ?? [])];
    const isForeign = owners.some((owner) => owner !== undefined && owner !== complexId);
    if (given.has(id) || (isForeign && !owners.includes(complexId))) return false;
    given.add(id);
    return true;
  };
}

/** A name for a beacon that came from elsewhere: no layout numbers beacons like that. */
function nameMoved(linkId: LinkId, complexId: ComplexId, isFree: IdCheck): BeaconId {
  for (let number = 1; ; number += 1) {
    const id = `${linkId}.moved${number}` as BeaconId;
    if (isFree(id, complexId)) return id;
  }
}

function listDonors(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): ReadonlyMap<ComplexId, readonly ComplexId[]> {
  const donors = new Map<ComplexId, ComplexId[]>();
  const common = [...listCommonComplexes(before, after, pieces)].sort(
    (a, b) => b.lengthM - a.lengthM || (a.before < b.before ? -1 : 1),
  );
  for (const pair of common) donors.set(pair.after, [...(donors.get(pair.after) ?? []), pair.before]);
  return donors;
}

/** What an address on a complex rests on: its links with their lines. Two texts are equal where nothing of it changed. */
function describeShapes(network: TunnelNetwork): ReadonlyMap<ComplexId, string> {
  const links = new Map(network.links.map((link) => [link.id, link]));
  const shape = ({ linkIds }: Complex) =>
    linkIds.map((id) => {
      const { direction, nodes, line } = links.get(id) as Link;
      return { id, direction, nodes, line };
    });
  return new Map(network.complexes.map((complex) => [complex.id, JSON.stringify(shape(complex))]));
}

function areEqual(a: SchemeRules, b: SchemeRules): boolean {
  const text = (rules: SchemeRules) => JSON.stringify(Object.entries(rules).sort());
  return text(a) === text(b);
}

import type { LineAddress } from '../alignment/line-address.ts';
import { type Carried, type CarryAddress, makeCarryAddress } from '../network/carry-address.ts';
import { indexComplexes } from '../network/keep-identity.ts';
import type { LinkPiece } from '../network/match-links.ts';
import type { Complex, ComplexId, Link, TunnelNetwork } from '../network/network.ts';
import type { BeaconId } from '../placement/beacon.ts';
import { replay } from './apply-command.ts';
import { type Carry, makeScheme, type PinnedBeacon, type Scheme, type SchemeRules } from './scheme.ts';

/** Where one moved beacon went; `carried` is absent where its bore is gone. */
export type CarriedPin = {
  readonly fromComplexId: ComplexId;
  readonly id: BeaconId;
  readonly from: LineAddress;
  readonly carried?: Carried;
};

export type CarriedSchemes = {
  /** Every scheme of the survey as it is now, sorted by complex. */
  readonly schemes: readonly Scheme[];
  readonly pins: readonly CarriedPin[];
  /** Complexes whose rules hold although another tunnel that they took in had others. */
  readonly rulesDiffer: readonly { readonly complexId: ComplexId; readonly otherId: ComplexId }[];
};

/**
 * Carries the schemes of a survey over to another state of its network. A tunnel that stayed as it was keeps its
 * scheme untouched; one that became another gets one line more in its log, which holds the whole content, so that
 * edits made before cannot be sent or taken back unseen. Rules: the tunnel's own, for a part that was split off
 * those of the tunnel it came from. Moved beacons keep their chainage or place (carry-address.ts) wherever their
 * bore is now.
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
  const pins = carryPins(schemes, makeCarryAddress(before.links, after.links, pieces));
  const isOf = indexComplexes(after);
  const stored = new Map(schemes.map((scheme) => [scheme.complexId, scheme]));
  const donors = listDonors(before, after, pieces);
  const was = describeShapes(before);
  const is = describeShapes(after);
  const rulesDiffer: CarriedSchemes['rulesDiffer'][number][] = [];
  const carried = after.complexes.flatMap(({ id }): Scheme[] => {
    const own = stored.get(id);
    if (was.get(id) === is.get(id)) return own === undefined ? [] : [own];
    const from = donors.get(id) ?? [];
    const isOld = was.has(id);
    const rules = (isOld ? own : stored.get(from[0] as ComplexId))?.rules ?? {};
    for (const otherId of from) {
      const other = stored.get(otherId)?.rules ?? {};
      if (otherId !== id && !isSame(rules, other)) rulesDiffer.push({ complexId: id, otherId });
    }
    if (!isOld && from.length === 0) return [];
    const pinned = pins
      .filter((pin) => pin.carried !== undefined && isOf.get(pin.carried.to.linkId) === id)
      .map((pin): PinnedBeacon => ({ id: pin.id, at: (pin.carried as Carried).to, anchor: pin.anchor }));
    return [append(own ?? makeScheme(id), { kind: 'carry', commandId, rules, pinned })];
  });
  return { schemes: carried, pins: pins.map(({ anchor: _, ...pin }) => pin), rulesDiffer };
}

function append(scheme: Scheme, carry: Carry): Scheme {
  const log = [...scheme.log, carry];
  return { complexId: scheme.complexId, revision: scheme.revision + 1, log, ...replay(log) };
}

function carryPins(
  schemes: readonly Scheme[],
  carry: CarryAddress,
): readonly (CarriedPin & Pick<PinnedBeacon, 'anchor'>)[] {
  return schemes.flatMap(({ complexId, pinned }) =>
    pinned.map(({ id, at, anchor }) => {
      const carried = carry(at, anchor);
      return {
        fromComplexId: complexId,
        id,
        from: at,
        anchor,
        ...(carried === undefined ? {} : { carried }),
      };
    }),
  );
}

/** The complexes that each complex has parts of, the greatest part first. */
export function listDonors(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): ReadonlyMap<ComplexId, readonly ComplexId[]> {
  const [was, is] = [indexComplexes(before), indexComplexes(after)];
  const lengths = new Map<ComplexId, Map<ComplexId, number>>();
  for (const piece of pieces) {
    const [from, to] = [was.get(piece.beforeId), is.get(piece.afterId)];
    if (from === undefined || to === undefined) continue;
    const parts = lengths.get(to) ?? new Map<ComplexId, number>();
    parts.set(from, (parts.get(from) ?? 0) + piece.toM - piece.fromM);
    lengths.set(to, parts);
  }
  return new Map(
    [...lengths].map(([id, parts]) => [
      id,
      [...parts].sort(([a, aM], [b, bM]) => bM - aM || (a < b ? -1 : 1)).map(([other]) => other),
    ]),
  );
}

/** What an address on a complex rests on: its links with their lines. Two texts are equal where nothing of it changed. */
export function describeShapes(network: TunnelNetwork): ReadonlyMap<ComplexId, string> {
  const links = new Map(network.links.map((link) => [link.id, link]));
  const shape = ({ linkIds }: Complex) =>
    linkIds.map((id) => {
      const { direction, nodes, line } = links.get(id) as Link;
      return { id, direction, nodes, line };
    });
  return new Map(network.complexes.map((complex) => [complex.id, JSON.stringify(shape(complex))]));
}

function isSame(a: SchemeRules, b: SchemeRules): boolean {
  const text = (rules: SchemeRules) => JSON.stringify(Object.entries(rules).sort());
  return text(a) === text(b);
}

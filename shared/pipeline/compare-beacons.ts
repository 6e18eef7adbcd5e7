import { roundTo, toPosition } from '../export/make-collection.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { segmentLengthM } from '../geodesy/segment.ts';
import type { ComplexId, TunnelNetwork } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { Beacon, BeaconId } from '../placement/beacon.ts';
import { makeWallPlacer } from '../placement/place-on-wall.ts';
import type { Rules } from '../placement/rules.ts';
import type { CarriedPin } from '../scheme/carry-schemes.ts';
import { makeScheme, type Scheme } from '../scheme/scheme.ts';
import type { Comparison } from '../wire/comparison.ts';
import { listComplexNetworks } from './build-survey.ts';
import { listBeacons } from './design-complex.ts';

type BeaconChange = Comparison['beacons'][number];
type Placed = { readonly complexId: ComplexId; readonly beacon: Beacon; readonly at: LonLat };

/** One state of a survey: its network and what people designed on it. */
export type DesignedNetwork = { readonly network: TunnelNetwork; readonly schemes: readonly Scheme[] };

/** Below this a beacon stands where it stood, metres. */
const SAME_M = 0.01;

/**
 * Where each beacon goes, sorted by tunnel and id: one that a person moved as it is carried, another by its id. Also
 * how many stay, and the greatest way.
 */
export function compareBeacons(
  before: DesignedNetwork,
  after: DesignedNetwork,
  rules: Rules,
  pins: readonly CarriedPin[],
): Pick<Comparison, 'beacons' | 'greatestBeaconShiftM'> & { readonly unchanged: number } {
  const was = placeAll(before, rules);
  const now = makeLookup(placeAll(after, rules));
  const carried = new Map(pins.map((pin) => [keyOf(pin.complexId, pin.id), pin]));
  return listChanges(was, now, (placed) => {
    const pin = carried.get(keyOf(placed.complexId, placed.beacon.id));
    const next = pin === undefined ? now.takeSame(placed) : pin.to && now.take(pin.to.complexId, pin.to.id);
    return { next, kept: next === undefined ? 'none' : (pin?.to?.kept ?? 'layout') };
  });
}

/**
 * Where each beacon of a survey went between two states of it, sorted by tunnel and id: by its id, whoever moved it.
 * Also how many stayed, and the greatest way.
 */
export function compareDesigns(
  before: DesignedNetwork & { readonly rules: Rules },
  after: DesignedNetwork & { readonly rules: Rules },
): Pick<Comparison, 'beacons' | 'greatestBeaconShiftM'> & { readonly unchanged: number } {
  const was = placeAll(before, before.rules);
  const now = makeLookup(placeAll(after, after.rules));
  return listChanges(was, now, (placed) => {
    const next = now.takeAny(placed);
    return { next, kept: next === undefined ? 'removed' : next.beacon.locked ? 'hand' : 'layout' };
  });
}

type Went = { readonly next: Placed | undefined; readonly kept: BeaconChange['kept'] };

function listChanges(
  was: readonly Placed[],
  now: ReturnType<typeof makeLookup>,
  follow: (placed: Placed) => Went,
): ReturnType<typeof compareDesigns> {
  const changes: BeaconChange[] = [];
  for (const placed of was) {
    const { next, kept } = follow(placed);
    const shiftM = next === undefined ? undefined : segmentLengthM(placed.at, next.at);
    if (next !== undefined && (shiftM ?? 0) < SAME_M && hasSameAddress(placed, next)) continue;
    changes.push(describe(placed, next, kept, shiftM));
  }
  for (const placed of now.listLeft()) {
    changes.push(describe(undefined, placed, placed.beacon.locked ? 'hand' : 'layout', undefined));
  }
  changes.sort((a, b) => byText(a.complexId, b.complexId) || byText(a.id, b.id));
  return {
    beacons: changes,
    greatestBeaconShiftM: changes.reduce((most, { shiftM = 0 }) => Math.max(most, shiftM), 0),
    unchanged: was.length - changes.filter(({ change }) => change !== 'added').length,
  };
}

function keyOf(complexId: ComplexId, id: BeaconId): string {
  return `${complexId} ${id}`;
}

/** The beacons of the later state, each of which becomes of one earlier beacon at most. */
function makeLookup(all: readonly Placed[]) {
  const left = new Map(all.map((placed) => [keyOf(placed.complexId, placed.beacon.id), placed]));
  const complexesOf = new Map<BeaconId, ComplexId[]>();
  for (const { beacon, complexId } of all) {
    complexesOf.set(beacon.id, [...(complexesOf.get(beacon.id) ?? []), complexId]);
  }
  const take = (complexId: ComplexId, id: BeaconId): Placed | undefined => {
    const found = left.get(keyOf(complexId, id));
    left.delete(keyOf(complexId, id));
    return found;
  };
  return {
    take,
    /** The one of the same id that the layout gives, in the same tunnel or the one that its link is in now. */
    takeSame({ complexId, beacon }: Placed): Placed | undefined {
      const candidates = [complexId, ...(complexesOf.get(beacon.id) ?? [])];
      const home = candidates.find((id) => left.get(keyOf(id, beacon.id))?.beacon.locked === false);
      return home && take(home, beacon.id);
    },
    /** The one of the same id, in the same tunnel or the one that its link is in now. */
    takeAny({ complexId, beacon }: Placed): Placed | undefined {
      const candidates = [complexId, ...(complexesOf.get(beacon.id) ?? [])];
      const home = candidates.find((id) => left.has(keyOf(id, beacon.id)));
      return home && take(home, beacon.id);
    },
    listLeft: (): readonly Placed[] => [...left.values()],
  };
}

/** A beacon whose chainage is another one is listed though it stands where it stood: people find it by its chainage. */
function hasSameAddress(before: Placed, after: Placed): boolean {
  const [was, is] = [before.beacon.at, after.beacon.at];
  return (
    before.complexId === after.complexId &&
    was.linkId === is.linkId &&
    Math.abs(was.chainageM - is.chainageM) < SAME_M
  );
}

function placeAll({ network, schemes }: DesignedNetwork, rules: Rules): readonly Placed[] {
  const byComplex = new Map(schemes.map((scheme) => [scheme.complexId, scheme]));
  return listComplexNetworks(network).flatMap((one) => {
    const { id } = one.complex;
    const placeOnWall = makeWallPlacer(one.links);
    const beacons = listBeacons(one, rules, byComplex.get(id) ?? makeScheme(id));
    return beacons.map((beacon) => ({ complexId: id, beacon, at: placeOnWall(beacon) }));
  });
}

function describe(
  before: Placed | undefined,
  after: Placed | undefined,
  kept: BeaconChange['kept'],
  shiftM: number | undefined,
): BeaconChange {
  const { complexId, beacon } = (after ?? before) as Placed;
  const end = (placed: Placed | undefined, address: 'from' | 'to', place: 'fromAt' | 'toAt') =>
    placed === undefined
      ? {}
      : {
          [address]: { ...placed.beacon.at, chainageM: roundTo(placed.beacon.at.chainageM, 3) },
          [place]: toPosition(placed.at),
        };
  return {
    complexId,
    id: beacon.id,
    change: before === undefined ? 'added' : after === undefined ? 'removed' : 'moved',
    locked: (before ?? after)?.beacon.locked ?? false,
    kept,
    ...end(before, 'from', 'fromAt'),
    ...end(after, 'to', 'toAt'),
    ...(shiftM === undefined ? {} : { shiftM: roundTo(shiftM, 2) }),
  };
}

import { byText } from '../../shared/outcome/by-text.ts';
import type { RevisionComparison } from '../../shared/wire/comparison.ts';

export type TunnelChange = RevisionComparison['complexes'][number];
export type LinkChange = RevisionComparison['links'][number];
export type BeaconChange = RevisionComparison['beacons'][number];

export type BeaconChangeRow =
  | { readonly kind: 'tunnel'; readonly complexId: string; readonly count: number }
  | { readonly kind: 'beacon'; readonly beacon: BeaconChange };

const TUNNEL_ORDER = ['vanished', 'appeared', 'split', 'joined', 'changed'];
const LINK_ORDER = ['vanished', 'appeared', 'split', 'joined', 'moved'];

/** What concerns most first: gone, new, split, joined, changed; then by name. */
export function listTunnelChanges(
  { complexes }: RevisionComparison,
  nameOf: (complexId: string) => string,
): readonly TunnelChange[] {
  const names = new Map(complexes.map(({ id }) => [id, nameOf(id)]));
  return [...complexes].sort(
    (a, b) =>
      TUNNEL_ORDER.indexOf(a.change) - TUNNEL_ORDER.indexOf(b.change) ||
      (names.get(a.id) ?? '').localeCompare(names.get(b.id) ?? '') ||
      byText(a.id, b.id),
  );
}

/** In the same order; those of one kind by how far they lie from where they lay. */
export function listLinkChanges({ links }: RevisionComparison): readonly LinkChange[] {
  return [...links].sort(
    (a, b) =>
      LINK_ORDER.indexOf(a.change) - LINK_ORDER.indexOf(b.change) ||
      (b.greatestShiftM ?? 0) - (a.greatestShiftM ?? 0) ||
      byText(a.id, b.id),
  );
}

/**
 * Beacons by tunnel, each with a heading. In a tunnel those that a person placed come first, then by how far they
 * move; tunnels with such beacons come first, then those where beacons move farthest.
 */
export function listBeaconChanges({ beacons }: RevisionComparison): readonly BeaconChangeRow[] {
  const groups = new Map<string, BeaconChange[]>();
  for (const beacon of beacons) {
    const group = groups.get(beacon.complexId);
    if (group === undefined) groups.set(beacon.complexId, [beacon]);
    else group.push(beacon);
  }
  const sorted = [...groups].map(([complexId, group]) => ({ complexId, group: group.sort(byWeight) }));
  return sorted
    .sort((a, b) => byWeight(a.group[0], b.group[0]) || byText(a.complexId, b.complexId))
    .flatMap(({ complexId, group }): BeaconChangeRow[] => [
      { kind: 'tunnel', complexId, count: group.length },
      ...group.map((beacon) => ({ kind: 'beacon' as const, beacon })),
    ]);
}

function byWeight(a: BeaconChange | undefined, b: BeaconChange | undefined): number {
  if (a === undefined || b === undefined) return 0;
  return Number(b.locked) - Number(a.locked) || (b.shiftM ?? 0) - (a.shiftM ?? 0) || byText(a.id, b.id);
}

import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

const TUNNEL_CHANGES = ['appeared', 'vanished', 'joined', 'split', 'changed'] as const;
const LINK_CHANGES = ['appeared', 'vanished', 'split', 'joined', 'moved'] as const;

/** Whether there is anything to look at before the newer extract is adopted. */
export function hasChanges({ complexes, links, beacons }: RevisionComparison): boolean {
  return complexes.length + links.length + beacons.length > 0;
}

/** A comparison in a few sentences: tunnels, links, beacons with the greatest shift, and what stays. */
export function describeChanges(comparison: RevisionComparison): readonly string[] {
  const say = words.changes;
  const { complexes, links, beacons, unchanged, greatestBeaconShiftM } = comparison;
  const greatestLinkM = links.reduce((most, link) => Math.max(most, link.greatestShiftM ?? 0), 0);
  const moves = beacons.filter(({ change }) => change === 'moved').length;
  return [
    sentence(
      say.counts.tunnels,
      TUNNEL_CHANGES.map((change) => [count(complexes, change), say.complex[change]]),
    ),
    sentence(
      say.counts.links,
      LINK_CHANGES.map((change) => [count(links, change), say.link[change]]),
      greatestLinkM,
    ),
    sentence(
      say.counts.beacons,
      (['added', 'removed', 'moved'] as const).map((change) => [count(beacons, change), say.beacon[change]]),
      moves > 0 ? greatestBeaconShiftM : 0,
    ),
    say.counts.unchanged(unchanged.complexes, unchanged.beacons),
  ].filter((part) => part !== '');
}

function count<C extends string>(changes: readonly { readonly change: C }[], wanted: C): number {
  return changes.filter(({ change }) => change === wanted).length;
}

/** `2 tunnels joined, 1 changed.`; empty where nothing is counted. `greatestM` is the greatest shift among them. */
function sentence(
  name: (count: number) => string,
  parts: readonly (readonly [number, string])[],
  greatestM = 0,
): string {
  const told = parts.filter(([number]) => number > 0);
  const [first, ...rest] = told;
  if (first === undefined) return '';
  const list = [
    `${name(first[0])} ${first[1]}`,
    ...rest.map(([number, change]) => `${formatNumber(number)} ${change}`),
  ].join(', ');
  return greatestM < 0.05 ? `${list}.` : `${list}, ${words.changes.greatest(formatNumber(greatestM, 1))}.`;
}

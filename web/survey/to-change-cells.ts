import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import { formatChainage, formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';
import {
  type BeaconChange,
  type LinkChange,
  listBeaconChanges,
  listLinkChanges,
  listTunnelChanges,
  type TunnelChange,
} from './list-change-rows.ts';

export type ChangeCell = {
  readonly id: string;
  readonly text: string;
  /** What a screen reader and a pointer that rests are told besides. */
  readonly title?: string;
  readonly isNumber?: boolean;
};

/** One line of a list of changes: its cells, and what it is about; or the heading of a group. */
export type ChangeRow = {
  readonly key: string;
  readonly group?: string;
  readonly cells: readonly ChangeCell[];
  readonly locked?: boolean;
  readonly tunnel?: TunnelChange;
  readonly link?: LinkChange;
  readonly beacon?: BeaconChange;
};

type NameOf = (complexId: string) => string;

/** Tunnels: what became of each, in what it differs, and its length before and after. */
export function toTunnelRows(comparison: RevisionComparison, nameOf: NameOf): readonly ChangeRow[] {
  const say = words.changes;
  return listTunnelChanges(comparison, nameOf).map((tunnel) => {
    const others = tunnel.others.map(nameOf).join(', ');
    const more = others === '' ? '' : tunnel.change === 'split' ? say.cameOut(others) : say.tookIn(others);
    const text = [tunnel.name ?? nameOf(tunnel.id), more].filter((part) => part !== '').join(', ');
    const facets = tunnel.facets.map((facet) => say.facets[facet]).join(', ');
    return {
      key: tunnel.id,
      tunnel,
      cells: [
        { id: 'change', text: say.complex[tunnel.change] },
        { id: 'name', text, title: text },
        { id: 'facets', text: facets, title: facets },
        { id: 'length', text: beforeAfter(tunnel.lengthBeforeM, tunnel.lengthAfterM), isNumber: true },
      ],
    };
  });
}

/** Links: with their ways, their length before and after, and how far their line shifts. */
export function toLinkRows(comparison: RevisionComparison, nameOf: NameOf): readonly ChangeRow[] {
  const say = words.changes;
  return listLinkChanges(comparison).map((link) => {
    const text = `${nameOf(link.complexId)}, ${say.ways(link.osmWays.join(', '))}`;
    return {
      key: `${link.complexId} ${link.id}`,
      link,
      cells: [
        { id: 'change', text: say.link[link.change] },
        { id: 'name', text, title: text },
        { id: 'length', text: beforeAfter(link.lengthBeforeM, link.lengthAfterM), isNumber: true },
        { id: 'shift', text: shift(link.greatestShiftM), isNumber: true },
      ],
    };
  });
}

/** Beacons, by tunnel: chainage before and after, how far it is from the old place to the new one, and what was kept. */
export function toBeaconRows(comparison: RevisionComparison, nameOf: NameOf): readonly ChangeRow[] {
  const say = words.changes;
  return listBeaconChanges(comparison).map((row): ChangeRow => {
    if (row.kind === 'tunnel') {
      const group = say.group(nameOf(row.complexId), row.count);
      return { key: `tunnel ${row.complexId}`, group, cells: [] };
    }
    const { beacon } = row;
    const kept = say.kept[beacon.kept];
    const chainages = [beacon.from, beacon.to].map((at) => at && formatChainage(at.chainageM));
    return {
      key: `${beacon.complexId} ${beacon.id} ${beacon.change}`,
      beacon,
      locked: beacon.locked,
      cells: [
        { id: 'change', text: say.beacon[beacon.change] },
        { id: 'chainage', text: chainages.map((text) => text ?? '–').join(' → ') },
        { id: 'shift', text: shift(beacon.shiftM), isNumber: true },
        { id: 'kept', text: kept, title: kept },
      ],
    };
  });
}

function beforeAfter(beforeM: number | undefined, afterM: number | undefined): string {
  const text = (lengthM: number | undefined) => (lengthM === undefined ? '–' : formatNumber(lengthM));
  return text(beforeM) === text(afterM) ? text(beforeM) : `${text(beforeM)} → ${text(afterM)}`;
}

function shift(shiftM: number | undefined): string {
  return shiftM === undefined ? '–' : formatNumber(shiftM, 1);
}

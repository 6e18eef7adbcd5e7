import type { TunnelRow, TunnelStatus } from '../session/tunnel-row.ts';
import { RANGE_IDS, type Range, type Ranges } from './table-view.ts';

/** `lacking`: beacons are planned there and do not hang, or not all of them. */
export const STATUS_FILTERS = ['all', 'lacking', 'none', 'planned', 'partly equipped', 'equipped'] as const;
export type StatusFilter = (typeof STATUS_FILTERS)[number];

export type TunnelFilter = {
  readonly text: string;
  readonly showsCovered: boolean;
  readonly showsRestricted: boolean;
  readonly status: StatusFilter;
  readonly ranges?: Ranges;
  /** Of these road classes; none: of any. */
  readonly classes?: readonly string[];
  /** Those for which one of these is assumed; none: whatever is. */
  readonly assumed?: readonly string[];
};

/**
 * The rows that a filter leaves, most exits underground first, then the longest, then by id: the order that holds
 * wherever the table's own sorting finds two rows equal. Every word of the text must occur in name or road number.
 */
export function listTunnels(rows: readonly TunnelRow[], filter: TunnelFilter): readonly TunnelRow[] {
  const wanted = fold(filter.text).split(/\s+/).filter(Boolean);
  return rows
    .filter((row) => filter.showsCovered || row.kind === 'tunnel')
    .filter((row) => filter.showsRestricted || !row.restricted)
    .filter((row) => hasStatus(row.status, filter.status))
    .filter((row) => RANGE_IDS.every((id) => isWithin(row[id], filter.ranges?.[id])))
    .filter((row) => isOneOf(filter.classes, [row.roadClass]) && isOneOf(filter.assumed, row.assumed))
    .filter((row) => {
      const text = fold(`${row.name} ${row.ref ?? ''}`);
      return wanted.every((word) => text.includes(word));
    })
    .sort((a, b) => b.exitCount - a.exitCount || b.lengthM - a.lengthM || (a.id < b.id ? -1 : 1));
}

/** Whether a status is one of those that are asked for. */
function hasStatus(status: TunnelStatus, wanted: StatusFilter): boolean {
  if (wanted === 'lacking') return status === 'planned' || status === 'partly equipped';
  return wanted === 'all' || status === wanted;
}

/** What has no such figure is in no range of it. */
function isWithin(value: number | undefined, range: Range | undefined): boolean {
  if (range === undefined) return true;
  const { min = Number.NEGATIVE_INFINITY, max = Number.POSITIVE_INFINITY } = range;
  return value !== undefined && value >= min && value <= max;
}

function isOneOf(wanted: readonly string[] = [], has: readonly string[]): boolean {
  return wanted.length === 0 || wanted.some((one) => has.includes(one));
}

/** Small letters without accents, so that `Gotthard` and `gotthárd` meet. */
function fold(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase();
}

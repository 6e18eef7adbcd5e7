import type { TunnelRow, TunnelStatus } from '../session/tunnel-row.ts';

/** `lacking`: beacons are planned there and do not hang, or not all of them. */
export const STATUS_FILTERS = ['all', 'lacking', 'none', 'planned', 'partly equipped', 'equipped'] as const;
export type StatusFilter = (typeof STATUS_FILTERS)[number];

export type TunnelFilter = {
  readonly text: string;
  readonly showsCovered: boolean;
  readonly showsRestricted: boolean;
  readonly status: StatusFilter;
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

/** Small letters without accents, so that `Gotthard` and `gotthárd` meet. */
function fold(text: string): string {
  return text
    .normalize('NFD')
    .replace(/\p{Diacritic}/gu, '')
    .toLowerCase();
}

import type { TunnelRow } from './tunnel-row.ts';

/** The tunnel that has most of the ways of one that is no more; undefined where none has any. */
export function findTaker(gone: TunnelRow, rows: readonly TunnelRow[]): TunnelRow | undefined {
  const ways = new Set(gone.osmWays);
  let best: { row: TunnelRow; count: number } | undefined;
  for (const row of rows) {
    const count = row.osmWays.filter((way) => ways.has(way)).length;
    if (count > (best?.count ?? 0)) best = { row, count };
  }
  return best?.row;
}

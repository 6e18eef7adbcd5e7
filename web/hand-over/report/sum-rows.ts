import type { TunnelRow, TunnelStatus } from '../../session/tunnel-row.ts';

export const STATUS_ORDER: readonly TunnelStatus[] = ['none', 'planned', 'partly equipped', 'equipped'];

export type RowSums = ReturnType<typeof sumRows>;

/** The figures of the summary. */
export function sumRows(rows: readonly TunnelRow[]) {
  const sum = (of: (row: TunnelRow) => number | undefined) =>
    rows.reduce((total, row) => total + (of(row) ?? 0), 0);
  const assumed = new Map<string, number>();
  for (const row of rows) for (const kind of row.assumed) assumed.set(kind, (assumed.get(kind) ?? 0) + 1);
  return {
    tunnels: rows.length,
    lengthM: sum((row) => row.lengthM),
    exits: sum((row) => row.exitCount),
    decisions: sum((row) => row.decisionCount),
    outageS: Math.max(0, ...rows.map((row) => row.outageS)),
    misguided: sum((row) => row.misguidedPerDay),
    misguidedWithDesign: sum((row) => row.misguidedPerDayWithDesign),
    beacons: sum((row) => row.beaconCount),
    existing: sum((row) => row.existingCount),
    cost: sum((row) => row.cost),
    statuses: STATUS_ORDER.map((status) => ({
      status,
      count: rows.filter((row) => row.status === status).length,
    })),
    /** How many tunnels have something assumed, by what. */
    assumed,
  };
}

import type { TunnelRow } from '../session/tunnel-row.ts';

type Column = {
  /** On a wide screen, pixels. */
  readonly widthPx: number;
  /** Figures stand at the right and start with the largest. */
  readonly isFigure: boolean;
};

/** The columns besides the name, in the order in which they stand. */
export const COLUMNS = {
  rank: { widthPx: 40, isFigure: true },
  misguidedPerDay: { widthPx: 86, isFigure: true },
  vehiclesPerDay: { widthPx: 62, isFigure: true },
  exitCount: { widthPx: 40, isFigure: true },
  lengthM: { widthPx: 74, isFigure: true },
  status: { widthPx: 80, isFigure: false },
  kind: { widthPx: 52, isFigure: false },
  roadClass: { widthPx: 92, isFigure: false },
  decisionCount: { widthPx: 44, isFigure: true },
  maxspeedKmh: { widthPx: 42, isFigure: true },
  outageS: { widthPx: 58, isFigure: true },
  beaconCount: { widthPx: 56, isFigure: true },
  existingCount: { widthPx: 56, isFigure: true },
  cost: { widthPx: 66, isFigure: true },
  assumed: { widthPx: 150, isFigure: false },
} as const satisfies { readonly [K in keyof TunnelRow]?: Column };

export type ColumnId = keyof typeof COLUMNS;
export const COLUMN_IDS = Object.keys(COLUMNS) as ColumnId[];

/** What fits beside the name at first. */
export const FIRST_COLUMNS: readonly ColumnId[] = [
  'rank',
  'misguidedPerDay',
  'vehiclesPerDay',
  'exitCount',
  'lengthM',
  'status',
];

const NAME_PX = 128;
const GAP_PX = 8;
const PADDING_PX = 24;

/** The CSS grid of the name and some columns, and the width that it needs, pixels: the table scrolls where that is not there. */
export function toGrid(columns: readonly ColumnId[]): { readonly css: string; readonly minWidthPx: number } {
  const widths = columns.map((id) => COLUMNS[id].widthPx);
  const sumPx = widths.reduce((sum, width) => sum + width + GAP_PX, 0);
  const css = [`minmax(${NAME_PX}px, 1fr)`, ...widths.map((width) => `${width}px`)].join(' ');
  return { css, minWidthPx: NAME_PX + sumPx + PADDING_PX };
}

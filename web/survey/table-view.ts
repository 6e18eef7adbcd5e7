import type { TunnelRow } from '../session/tunnel-row.ts';
import type { StatusFilter } from './list-tunnels.ts';
import { COLUMN_IDS, type ColumnId, FIRST_COLUMNS } from './tunnel-columns.ts';

/** Figures that tunnels can be filtered by. */
export const RANGE_IDS = [
  'exitCount',
  'decisionCount',
  'lengthM',
  'outageS',
  'misguidedPerDay',
  'rank',
] as const satisfies (keyof TunnelRow)[];
export type RangeId = (typeof RANGE_IDS)[number];

/** From and to, both included; one of them may be open. */
export type Range = { readonly min?: number; readonly max?: number };
export type Ranges = { readonly [K in RangeId]?: Range };

export type SortColumn = ColumnId | 'name';
export type Sorting = readonly { readonly id: SortColumn; readonly desc: boolean }[];

/** Which tunnels the table and the map show, which figures of them, and in which order. */
export type TableView = {
  readonly text: string;
  readonly status: StatusFilter;
  readonly showsCovered: boolean;
  readonly showsRestricted: boolean;
  readonly ranges: Ranges;
  /** Road classes, and what is assumed; none: whatever it is. */
  readonly classes: readonly string[];
  readonly assumed: readonly string[];
  /** The columns besides the name, in the order in which they stand. */
  readonly columns: readonly ColumnId[];
  /** What is sorted by first, and then where that is equal. */
  readonly sorting: Sorting;
};

/** Most exits underground first, then the longest. */
const FIRST_ORDER: Sorting = [
  { id: 'exitCount', desc: true },
  { id: 'lengthM', desc: true },
];

/** What a table shows at first. */
export const FIRST_VIEW: TableView = {
  text: '',
  status: 'all',
  showsCovered: false,
  showsRestricted: false,
  ranges: {},
  classes: [],
  assumed: [],
  columns: FIRST_COLUMNS,
  sorting: FIRST_ORDER,
};

/** The view with nothing filtered out, but for the kinds that are hidden at first. */
export function clearFilters(view: TableView): TableView {
  const { text, status, ranges, classes, assumed } = FIRST_VIEW;
  return { ...view, text, status, ranges, classes, assumed };
}

/** Sets or takes away one range. */
export function withRange(ranges: Ranges, id: RangeId, range: Range | undefined): Ranges {
  const { [id]: _, ...others } = ranges;
  const isOpen = range === undefined || (range.min === undefined && range.max === undefined);
  return isOpen ? others : { ...others, [id]: range };
}

/** Whether a range can hold anything. */
export function isRange({ min, max }: Range): boolean {
  const isSound = (value: number | undefined) =>
    value === undefined || (Number.isFinite(value) && value >= 0);
  return isSound(min) && isSound(max) && (min === undefined || max === undefined || min <= max);
}

export const SORT_COLUMNS: readonly SortColumn[] = ['name', ...COLUMN_IDS];

import { STATUS_FILTERS } from './list-tunnels.ts';
import {
  FIRST_VIEW,
  isRange,
  RANGE_IDS,
  type Range,
  type RangeId,
  type Ranges,
  SORT_COLUMNS,
  type Sorting,
  type TableView,
} from './table-view.ts';
import { COLUMN_IDS } from './tunnel-columns.ts';

/** How ranges are called in an address. */
const RANGE_PARAMS: Readonly<Record<RangeId, string>> = {
  exitCount: 'exits',
  decisionCount: 'decisions',
  lengthM: 'length',
  outageS: 'outage',
  misguidedPerDay: 'misguided',
  rank: 'rank',
};

/** Longest text that is searched for; an address that was pasted together may hold more. */
const MAX_TEXT = 200;

/** Writes into an address what of a table's view is not as it is at first. */
export function writeTableView(params: URLSearchParams, view: TableView): void {
  const set = (name: string, value: string) => {
    if (value !== '') params.set(name, value);
  };
  set('q', view.text.trim());
  if (view.status !== FIRST_VIEW.status) set('status', view.status);
  set(
    'also',
    [...(view.showsCovered ? ['covered'] : []), ...(view.showsRestricted ? ['private'] : [])].join(),
  );
  for (const id of RANGE_IDS) {
    const range = view.ranges[id];
    if (range !== undefined) set(RANGE_PARAMS[id], `${range.min ?? ''}..${range.max ?? ''}`);
  }
  set('class', view.classes.join());
  set('assumed', view.assumed.join());
  const columns = view.columns.join();
  if (columns !== FIRST_VIEW.columns.join()) set('columns', columns || NONE);
  const order = toOrder(view.sorting);
  if (order !== toOrder(FIRST_VIEW.sorting)) set('sort', order);
}

/** Reads a table's view from an address; what cannot be understood is as it is at first. */
export function readTableView(params: URLSearchParams): TableView {
  const list = (name: string) => (params.get(name) ?? '').split(',').filter(Boolean);
  const also = list('also');
  return {
    text: (params.get('q') ?? '').slice(0, MAX_TEXT),
    status: STATUS_FILTERS.find((one) => one === params.get('status')) ?? FIRST_VIEW.status,
    showsCovered: also.includes('covered'),
    showsRestricted: also.includes('private'),
    ranges: readRanges(params),
    classes: list('class').filter(isWord),
    assumed: list('assumed').filter(isWord),
    columns: readColumns(params.get('columns')),
    sorting: readOrder(list('sort')) ?? FIRST_VIEW.sorting,
  };
}

/** For a table without columns, which an empty list would not tell. */
const NONE = 'none';

/** What classes and assumptions look like. */
function isWord(text: string): boolean {
  return /^[\w -]{1,40}$/.test(text);
}

function readColumns(text: string | null): TableView['columns'] {
  if (text === NONE) return [];
  const asked = (text ?? '').split(',');
  const known = COLUMN_IDS.filter((id) => asked.includes(id));
  return known.length === 0 ? FIRST_VIEW.columns : known;
}

function readRanges(params: URLSearchParams): Ranges {
  const found: { [K in RangeId]?: Range } = {};
  for (const id of RANGE_IDS) {
    const parts = /^(\d{0,9}(?:\.\d{1,6})?)\.\.(\d{0,9}(?:\.\d{1,6})?)$/.exec(
      params.get(RANGE_PARAMS[id]) ?? '',
    );
    const [, min = '', max = ''] = parts ?? [];
    const range = {
      ...(min === '' ? {} : { min: Number(min) }),
      ...(max === '' ? {} : { max: Number(max) }),
    };
    if (Object.keys(range).length > 0 && isRange(range)) found[id] = range;
  }
  return found;
}

/** Largest first is a minus before the column. */
function toOrder(sorting: Sorting): string {
  return sorting.map(({ id, desc }) => (desc ? `-${id}` : id)).join();
}

function readOrder(parts: readonly string[]): Sorting | undefined {
  const order = parts.map((part) => ({
    id: SORT_COLUMNS.find((id) => id === part.replace(/^-/, '')),
    desc: part.startsWith('-'),
  }));
  const isKnown = order.length > 0 && order.length <= 3 && order.every(({ id }) => id !== undefined);
  return isKnown ? (order as Sorting) : undefined;
}

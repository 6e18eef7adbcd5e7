import { done, type Result } from '../outcome/result.ts';
import { type Columns, findColumns } from './find-columns.ts';
import { findNumber, isThousandsUnclear, withoutThousands } from './find-number.ts';
import { readTable, type TableRow } from './read-table.ts';
import { makeNote, type RowNote } from './row-note.ts';
import type { TrafficFile, TrafficRow } from './traffic.ts';

/** More vehicles a day than any road carries: a wrong column, or a sum over a year. */
export const MAX_VEHICLES_PER_DAY = 500_000;

const NAMES = {
  way: ['way', 'way_id', 'osm_way', 'osm_way_id'],
  ref: ['ref'],
  name: ['name'],
  count: ['vehicles_per_day', 'aadt'],
  heavy: ['heavy_share'],
} as const;

type Key = keyof typeof NAMES;

/**
 * Reads counts from CSV with a header: `way` (OSM id), `ref` or `name`; `vehicles_per_day` or `aadt`; optional
 * `heavy_share` (0 to 1, or percent with its sign). Rows that cannot be used stay as notes with line and reason.
 * Refused as readTable and findColumns say.
 */
export function readTraffic(text: string, name: string): Result<TrafficFile> {
  const table = readTable(text, name);
  if (!table.ok) return table;
  const columns = findColumns(table.value, name, NAMES, [['way', 'ref', 'name'], ['count']]);
  if (!columns.ok) return columns;
  const rows: TrafficRow[] = [];
  const notes: RowNote[] = [];
  const { decimalComma, heads } = table.value;
  for (const row of table.value.rows) {
    const read = readRow(row, columns.value, decimalComma, heads.length);
    if ('row' in read) rows.push(read.row);
    if (read.note !== undefined) notes.push(read.note);
  }
  return done({ name, rows, notes });
}

type Read = { readonly row: TrafficRow; readonly note?: RowNote } | { readonly note: RowNote };

function readRow(
  { line, cells }: TableRow,
  columns: Columns<Key>,
  decimalComma: boolean,
  width: number,
): Read {
  const cell = (key: Key) => cells[columns[key] ?? -1] ?? '';
  // An unquoted comma in a name or number moves every cell behind it.
  const surplus = cells.slice(width).find((text) => text !== '');
  if (surplus !== undefined) return { note: makeNote(line, 'more cells than columns', surplus) };
  const [way, ref, name] = [cell('way'), cell('ref'), cell('name')];
  if (way === '' && ref === '' && name === '') return { note: makeNote(line, 'no way, ref or name') };
  if (way !== '' && !isWayId(way)) return { note: makeNote(line, 'way is not an OpenStreetMap id', way) };
  const count = readCount(cell('count'), decimalComma);
  if (typeof count === 'string') return { note: makeNote(line, count, cell('count')) };
  const heavyShare = readShare(cell('heavy'), decimalComma);
  const row = {
    line,
    ...(way === '' ? {} : { way: Number(way) }),
    ...(ref === '' ? {} : { ref }),
    ...(name === '' ? {} : { name }),
    vehiclesPerDay: count,
    ...(typeof heavyShare === 'number' ? { heavyShare } : {}),
  };
  return heavyShare === 'unreadable'
    ? {
        row,
        note: makeNote(line, 'heavy share is not between 0 and 1 or 0 % and 100 %', cell('heavy'), true),
      }
    : { row };
}

function isWayId(text: string): boolean {
  return /^[1-9]\d*$/.test(text) && Number.isSafeInteger(Number(text));
}

/** The count, or why there is none. */
function readCount(text: string, decimalComma: boolean): number | string {
  if (text === '') return 'vehicles per day missing';
  if (isThousandsUnclear(text)) return 'vehicles per day with an unclear separator (12500 is clear)';
  const value = findNumber(withoutThousands(text), decimalComma);
  if (value === undefined || !Number.isFinite(value)) return 'vehicles per day is not a number';
  if (value < 0) return 'vehicles per day is negative';
  return value > MAX_VEHICLES_PER_DAY ? `vehicles per day above ${MAX_VEHICLES_PER_DAY}` : value;
}

function readShare(text: string, decimalComma: boolean): number | undefined | 'unreadable' {
  if (text === '') return undefined;
  const [, number = text, percent] = /^(.*?)\s*(%)$/.exec(text) ?? [];
  const value = findNumber(number, decimalComma);
  const share = value === undefined || percent === undefined ? value : value / 100;
  return share !== undefined && share >= 0 && share <= 1 ? share : 'unreadable';
}

// CommonJS: plain Node gives the whole of it as the default.
import papa from 'papaparse';
import { RefusalError, refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';

/** A row of a table that came as text. `line` is the one on which it begins, counted from 1. */
export type TableRow = { readonly line: number; readonly cells: readonly string[] };

/** A table with a header. Rows without any text are left out. */
export type Table = {
  readonly heads: readonly string[];
  readonly headLine: number;
  /** Commas do not part the cells, so that one in a number is a decimal comma. */
  readonly decimalComma: boolean;
  readonly rows: readonly TableRow[];
};

/** More rows than a country counts; a file beyond it is taken for something else, and would keep others waiting. */
export const MAX_ROWS = 100_000;

const DELIMITERS = [',', ';', '\t'] as const;

/**
 * Reads CSV (RFC 4180): parted by commas, semicolons or tabs, which the header tells, with quotes, any line ends, a
 * byte order mark and a spreadsheet's `sep=` line. Refused as `table-empty`, `table-html`, `table-not-text`,
 * `table-damaged` (quotes that do not close) and `table-too-large`.
 */
export function readTable(text: string, name: string): Result<Table> {
  const foreign = findForeign(text);
  if (foreign !== undefined) return refused(refusal(foreign, { name }));
  const plain = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  const told = /^sep=([,;\t])\n/i.exec(plain);
  const body = told === null ? plain : plain.slice(told[0].length);
  const delimiter = told?.[1] ?? findDelimiter(body);
  try {
    const [head, ...rows] = readRows(body, delimiter, told === null ? 1 : 2, name);
    if (head === undefined || rows.length === 0) return refused(refusal('table-empty', { name }));
    return done({ heads: head.cells, headLine: head.line, decimalComma: delimiter !== ',', rows });
  } catch (error) {
    if (error instanceof RefusalError) return refused(error.refusal);
    throw error;
  }
}

function findForeign(text: string): 'table-empty' | 'table-html' | 'table-not-text' | undefined {
  const start = text
    .slice(0, 1000)
    .replace(/^\uFEFF/, '')
    .trimStart();
  if (start.startsWith('<')) return 'table-html';
  if (start.startsWith('PK\u0003\u0004') || text.includes('\0')) return 'table-not-text';
  return text.trim() === '' ? 'table-empty' : undefined;
}

/** The one of the three that stands most often in the header, outside of quotes. */
function findDelimiter(text: string): string {
  const head = (/[^\n]*\S[^\n]*/.exec(text)?.[0] ?? '').replace(/"[^"]*"/g, '');
  const counts = DELIMITERS.map((delimiter) => ({ delimiter, count: head.split(delimiter).length }));
  return counts.reduce((most, one) => (one.count > most.count ? one : most)).delimiter;
}

function readRows(text: string, delimiter: string, firstLine: number, name: string): TableRow[] {
  const rows: TableRow[] = [];
  let line = firstLine;
  let cursor = 0;
  papa.parse<string[]>(text, {
    delimiter,
    newline: '\n',
    step: ({ data, errors, meta }) => {
      const [error] = errors;
      if (error !== undefined) throw new RefusalError('table-damaged', { name, line });
      if (data.some((cell) => cell.trim() !== ''))
        rows.push({ line, cells: data.map((cell) => cell.trim()) });
      if (rows.length > MAX_ROWS + 1)
        throw new RefusalError('table-too-large', { name, limit: `${MAX_ROWS} rows` });
      line += countLines(text, cursor, meta.cursor);
      cursor = meta.cursor;
    },
  });
  return rows;
}

function countLines(text: string, from: number, to: number): number {
  let count = 0;
  for (let at = text.indexOf('\n', from); at >= 0 && at < to; at = text.indexOf('\n', at + 1)) count += 1;
  return count;
}

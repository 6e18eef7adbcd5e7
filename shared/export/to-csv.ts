/** Also in full width, which some spreadsheets take for the same. */
const FORMULA = /^[=+\-@\t\r\n＝＋－＠]/;

/** A cell as RFC 4180 wants it; text that begins as a formula does gets a quote, so that no spreadsheet runs it. */
function toCell(value: unknown): string {
  if (value === undefined || value === null) return '';
  const text = Array.isArray(value) ? value.join(' ') : String(value);
  const safe = typeof value !== 'number' && FORMULA.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** Rows of records as CSV with the given columns, RFC 4180: CRLF, header first unless it stands there already. */
export function toCsv(
  rows: readonly Readonly<Record<string, unknown>>[],
  columns: readonly string[],
  hasHeader = true,
): string {
  const lines = rows.map((row) => columns.map((name) => toCell(row[name])).join(','));
  return [...(hasHeader ? [columns.join(',')] : []), ...lines].map((line) => `${line}\r\n`).join('');
}

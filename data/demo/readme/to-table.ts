/** A Markdown table with columns padded to one width, as the formatter of this project leaves it. */
export function toTable(rows: readonly (readonly string[])[]): string {
  const widths = rows[0]!.map((_, c) => Math.max(3, ...rows.map((row) => row[c]!.length)));
  const line = (cells: readonly string[]) =>
    `| ${cells.map((cell, c) => cell.padEnd(widths[c]!)).join(' | ')} |`;
  const [head, ...body] = rows;
  return [line(head!), line(widths.map((w) => '-'.repeat(w))), ...body.map(line)].join('\n');
}

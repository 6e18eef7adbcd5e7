/** Puts each table between its two marks in the README; throws when a mark is missing. */
export function fillReadme(text: string, tables: Readonly<Record<string, string>>): string {
  let out = text;
  for (const [name, table] of Object.entries(tables)) {
    const [open, close] = [`<!-- ${name} -->`, `<!-- end of ${name} -->`];
    const from = out.indexOf(open);
    const to = out.indexOf(close);
    if (from < 0 || to < from) throw new Error(`README.md has no place for the table of ${name}`);
    out = `${out.slice(0, from + open.length)}\n${table}\n${out.slice(to)}`;
  }
  return out;
}

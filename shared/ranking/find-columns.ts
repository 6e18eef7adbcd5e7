import { refusal } from '../outcome/refusal.ts';
import { done, type Result, refused } from '../outcome/result.ts';
import type { Table } from './read-table.ts';

/** Where a table has the columns that are known: their places, by what they are for. */
export type Columns<Key extends string> = Readonly<Partial<Record<Key, number>>>;

/**
 * Finds columns by their names, whatever their case and with or without spaces, hyphens and underscores. Refused as
 * `table-column-twice` where two columns say the same, as `table-columns` where one of each group of `needed` is missing.
 */
export function findColumns<Key extends string>(
  { heads }: Table,
  name: string,
  names: Readonly<Record<Key, readonly string[]>>,
  needed: readonly (readonly NoInfer<Key>[])[],
): Result<Columns<Key>> {
  const found: Partial<Record<Key, number>> = {};
  for (const key of Object.keys(names) as Key[]) {
    const known = new Set(names[key].map(toPlainHead));
    const places = heads.flatMap((head, i) => (known.has(toPlainHead(head)) ? [i] : []));
    const [first, second] = places;
    if (first !== undefined && second !== undefined) {
      const columns = `${heads[first]}, ${heads[second]}`;
      return refused(refusal('table-column-twice', { name, columns }));
    }
    if (first !== undefined) found[key] = first;
  }
  const missing = needed.find((keys) => keys.every((key) => found[key] === undefined));
  if (missing === undefined) return done(found);
  const expected = missing.map((key) => names[key][0]).join(' or ');
  return refused(refusal('table-columns', { name, expected, found: shorten(heads.join(', ')) }));
}

/** A column's name without what people write differently. */
export function toPlainHead(head: string): string {
  return head.toLowerCase().replace(/[\s_-]+/g, '');
}

/** A file that is no table at all may have a "header" of any length. */
function shorten(text: string): string {
  return text.length > 120 ? `${text.slice(0, 120)}…` : text;
}

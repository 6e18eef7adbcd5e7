import type { Tags } from './extract.ts';

/** Where vehicles may go, seen along the way's own nodes. */
export type Oneway = 'forward' | 'backward' | 'both' | 'reversible';

const VALUES: ReadonlyMap<string, Oneway> = new Map([
  ['yes', 'forward'],
  ['1', 'forward'],
  ['true', 'forward'],
  ['-1', 'backward'],
  ['reverse', 'backward'],
  ['no', 'both'],
  ['0', 'both'],
  ['false', 'both'],
  ['reversible', 'reversible'],
  ['alternating', 'reversible'],
]);

/**
 * Reads `oneway`. Without a value, roundabouts and motorways are one-way; `unreadable` is the
 * value that was not understood, which is then taken as if it were missing.
 */
export function readOneway(tags: Tags): { readonly oneway: Oneway; readonly unreadable?: string } {
  const value = tags.oneway;
  const known = value === undefined ? undefined : VALUES.get(value);
  if (known !== undefined) return { oneway: known };
  const implied =
    tags.junction === 'roundabout' || tags.junction === 'circular' || tags.highway === 'motorway';
  const oneway: Oneway = implied ? 'forward' : 'both';
  return value === undefined ? { oneway } : { oneway, unreadable: value };
}

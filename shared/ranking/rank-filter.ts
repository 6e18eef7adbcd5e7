import type { TunnelFigures } from './rank.ts';

/** The figures that tunnels can be filtered by; a factor of the user's own by its name. */
export const RANK_FIELDS = [
  'misguidedPerDay',
  'misguidedPerDayWithDesign',
  'avoidedPerDay',
  'avoidedPerCost',
  'cost',
  'vehiclesPerDay',
  'outageS',
  'score',
] as const;
export type RankField = (typeof RANK_FIELDS)[number];

/** Keeps the tunnels whose field lies from `min` to `max`, both included; either may be absent. */
export type RankFilter = { readonly min?: number; readonly max?: number } & (
  | { readonly field: RankField }
  | { readonly factor: string }
);

/** A filter that a tunnel does not meet; `found` is absent where the tunnel has no value for the factor. */
export type UnmetFilter = { readonly filter: RankFilter; readonly found?: number };

/** The first filter that a tunnel does not meet; one without a value does not meet a filter by that factor. */
export function findUnmet(figures: TunnelFigures, filters: readonly RankFilter[]): UnmetFilter | undefined {
  for (const filter of filters) {
    const found = getField(figures, filter);
    if (found === undefined) return { filter };
    if (
      found < (filter.min ?? Number.NEGATIVE_INFINITY) ||
      found > (filter.max ?? Number.POSITIVE_INFINITY)
    ) {
      return { filter, found };
    }
  }
  return undefined;
}

function getField(figures: TunnelFigures, filter: RankFilter): number | undefined {
  if ('factor' in filter) return figures.factors.find(({ name }) => name === filter.factor)?.value;
  if (filter.field === 'misguidedPerDay') return figures.misguided.perDay.without;
  if (filter.field === 'misguidedPerDayWithDesign') return figures.misguided.perDay.with;
  return figures[filter.field];
}

import type { ComplexId } from '../network/network.ts';

/** How much a factor may count: at -1 the highest value brings a score to 0, at 10 it counts eleven times. */
export const WEIGHT_RANGE = { unit: '', min: -1, max: 10, step: 0.1, fallback: 0 } as const;

/** A column of the user's own; higher values come first where the weight is positive, later where it is negative. */
export type RankFactor = {
  readonly name: string;
  /** Within WEIGHT_RANGE. */
  readonly weight: number;
  readonly values: ReadonlyMap<ComplexId, number>;
};

/** What a factor does to one score: `multiplier = 1 + weight × normalised`. */
export type ScoreFactor = {
  readonly name: string;
  /** Absent where the column has no value for the tunnel: the multiplier is 1. */
  readonly value?: number;
  /** From 0 for the lowest value of the column to 1 for the highest; 0 where all are alike. */
  readonly normalised: number;
  readonly weight: number;
  readonly multiplier: number;
};

/**
 * The multipliers of each tunnel. They multiply the score and are not added to it: a weight then has no unit to be
 * matched with drivers or money, weight 0 leaves the order alone, and no factor lifts a tunnel where a design avoids
 * nothing. Lowest and highest are taken over all `complexIds`. Throws where a weight or value is no usable number.
 */
export function makeMultipliers(
  complexIds: readonly ComplexId[],
  factors: readonly RankFactor[],
): (complexId: ComplexId) => readonly ScoreFactor[] {
  const columns = factors.map((factor) => ({ factor, range: getRange(complexIds, factor) }));
  return (complexId) =>
    columns.map(({ factor: { name, weight, values }, range: { lowest, span } }) => {
      const value = values.get(complexId);
      if (value === undefined) return { name, normalised: 0, weight, multiplier: 1 };
      const normalised = span > 0 ? (value - lowest) / span : 0;
      return { name, value, normalised, weight, multiplier: 1 + weight * normalised };
    });
}

function getRange(complexIds: readonly ComplexId[], { name, weight, values }: RankFactor) {
  if (!(weight >= WEIGHT_RANGE.min && weight <= WEIGHT_RANGE.max))
    throw new Error(`weight of ${name}: ${weight}`);
  let lowest = Number.POSITIVE_INFINITY;
  let highest = Number.NEGATIVE_INFINITY;
  for (const id of complexIds) {
    const value = values.get(id);
    if (value === undefined) continue;
    if (!Number.isFinite(value)) throw new Error(`${name} of ${id}: ${value}`);
    lowest = Math.min(lowest, value);
    highest = Math.max(highest, value);
  }
  return { lowest, span: highest - lowest };
}

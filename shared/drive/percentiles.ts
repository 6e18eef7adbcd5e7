import type { Percentiles } from './drive.ts';

/**
 * Finds below which values 5, 50 and 95 % of all lie, or at them; rounded to a centimetre. Reorders `values`; at least
 * one.
 */
export function takePercentiles(values: Float64Array): Percentiles {
  const last = values.length - 1;
  const [low, middle, high] = [rankOf(0.05, last), rankOf(0.5, last), rankOf(0.95, last)];
  const p50 = select(values, middle, 0, last);
  const p5 = select(values, low, 0, middle);
  const p95 = select(values, high, middle, last);
  return { p5: toCentimetres(p5), p50: toCentimetres(p50), p95: toCentimetres(p95) };
}

/** Rounds to a centimetre; never −0. */
export function toCentimetres(valueM: number): number {
  return Math.round(valueM * 100) / 100 + 0;
}

function rankOf(share: number, last: number): number {
  return Math.max(0, Math.ceil(share * (last + 1) - 1e-9) - 1);
}

/** Quickselect: the value of a rank, with all smaller ones before it and all greater ones after it. */
function select(values: Float64Array, rank: number, from: number, to: number): number {
  let [left, right] = [from, to];
  while (left < right) {
    const pivot = values[(left + right) >> 1] as number;
    let [i, j] = [left, right];
    while (i <= j) {
      while ((values[i] as number) < pivot) i += 1;
      while ((values[j] as number) > pivot) j -= 1;
      if (i > j) break;
      const kept = values[i] as number;
      values[i] = values[j] as number;
      values[j] = kept;
      i += 1;
      j -= 1;
    }
    if (rank <= j) right = j;
    else if (rank >= i) left = i;
    else break;
  }
  return values[rank] as number;
}

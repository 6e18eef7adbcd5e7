import type { Percentiles } from './drive.ts';

const BINS = 512;

/**
 * Finds the values that 5, 50 and 95 % of all lie at or below, rounded to a centimetre; at least one value, all finite.
 * Not sorted as a whole: the values are counted into bins, and only the bins that hold the answers are looked into.
 */
export function takePercentiles(values: Float64Array): Percentiles {
  let [least, most] = [values[0] as number, values[0] as number];
  for (let i = 1; i < values.length; i += 1) {
    const value = values[i] as number;
    if (value < least) least = value;
    else if (value > most) most = value;
  }
  const binsPerM = most > least ? (BINS - 1) / (most - least) : 0;
  const counts = new Uint32Array(BINS);
  for (let i = 0; i < values.length; i += 1) {
    const bin = ((values[i] as number) - least) * binsPerM;
    counts[bin | 0] = (counts[bin | 0] as number) + 1;
  }
  const find = (percent: number): number => {
    let rank = Math.max(0, Math.ceil((percent * values.length) / 100) - 1);
    let bin = 0;
    for (; rank >= (counts[bin] as number); bin += 1) rank -= counts[bin] as number;
    const inside = new Float64Array(counts[bin] as number);
    let at = 0;
    for (let i = 0; i < values.length; i += 1) {
      const value = values[i] as number;
      if ((((value - least) * binsPerM) | 0) !== bin) continue;
      inside[at] = value;
      at += 1;
    }
    return toCentimetres(inside.sort()[rank] as number);
  };
  return { p5: find(5), p50: find(50), p95: find(95) };
}

/** Rounds to a centimetre; never −0. */
export function toCentimetres(valueM: number): number {
  return Math.round(valueM * 100) / 100 + 0;
}

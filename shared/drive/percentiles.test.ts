import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { takePercentiles } from './percentiles.ts';

describe('percentiles', () => {
  it('are the values that 5, 50 and 95 % lie at or below', () => {
    const values = Float64Array.from({ length: 100 }, (_, i) => 100 - i);
    expect(takePercentiles(values)).toEqual({ p5: 5, p50: 50, p95: 95 });
    expect(takePercentiles(new Float64Array([7]))).toEqual({ p5: 7, p50: 7, p95: 7 });
  });

  it('are those of the sorted values', () => {
    const value = fc.oneof(
      fc.double({ min: -1e4, max: 1e4, noNaN: true }),
      fc.constantFrom(0, 12.34, -5),
      fc.double({ min: 0, max: 1, noNaN: true }),
    );
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 400 }), (values) => {
        const sorted = [...values].sort((a, b) => a - b);
        const at = (percent: number) =>
          sorted[Math.max(0, Math.ceil((percent * values.length) / 100) - 1)] ?? 0;
        const { p5, p50, p95 } = takePercentiles(Float64Array.from(values));
        for (const [found, percent] of [[p5, 5] as const, [p50, 50] as const, [p95, 95] as const])
          expect(Math.abs(found - at(percent))).toBeLessThanOrEqual(0.005 + 1e-9);
      }),
      { seed: 4 },
    );
  });
});

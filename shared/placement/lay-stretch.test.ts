import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Interval } from './keep-out.ts';
import { layStretch } from './lay-stretch.ts';

describe('layStretch', () => {
  it('cuts the way into equal intervals, none for a hair too much', () => {
    expect(layStretch(0, 100, 40, [])).toEqual([100 / 3, 200 / 3]);
    expect(layStretch(0, 58 * 40 + 1e-9, 40, [])).toHaveLength(57);
  });

  it('moves a place to the nearest end of its keep-out and cuts the rest anew', () => {
    // Places at 40, 80, 120, 160; 80 lies in 70 … 84, its nearer end is 84: 84 and 116 m, at 40 m 2 and 2 more.
    expect(layStretch(0, 200, 40, [[70, 84]])).toEqual([28, 56, 84, 84 + 116 / 3, 84 + (2 * 116) / 3]);
  });

  it('stands at both ends of a keep-out that is longer than the spacing', () => {
    expect(layStretch(0, 200, 40, [[60, 130]])).toEqual([30, 60, 130, 165]);
  });

  it('leaves a stretch that is kept out as a whole as it is', () => {
    expect(layStretch(0, 100, 40, [[-1, 101]])).toEqual([]);
  });

  it('of two ends that are equally near takes the earlier one, the later one backwards', () => {
    expect(layStretch(0, 80, 40, [[30, 50]])).toEqual([30, 55].map((m) => expect.closeTo(m, 9)));
    expect(layStretch(0, 80, 40, [[30, 50]], true)).toEqual([25, 50].map((m) => expect.closeTo(m, 9)));
  });

  const anyKeepOuts = fc
    .array(
      fc.tuple(fc.double({ min: 0, max: 900, noNaN: true }), fc.double({ min: 1, max: 60, noNaN: true })),
      {
        maxLength: 5,
      },
    )
    .map((drawn) => {
      const intervals = drawn.map(([fromM, lengthM]): Interval => [fromM, fromM + lengthM]);
      return intervals
        .sort((a, b) => a[0] - b[0])
        .filter(([fromM], i) => i === 0 || fromM > (intervals[i - 1] as Interval)[1]);
    });

  it('stands in no keep-out, and no interval is above the spacing but across one', () => {
    fc.assert(
      fc.property(anyKeepOuts, fc.double({ min: 20, max: 90, noNaN: true }), (keptOut, spacingM) => {
        const places = layStretch(0, 960, spacingM, keptOut);
        for (const place of places) {
          expect(keptOut.some(([fromM, toM]) => place > fromM && place < toM)).toBe(false);
        }
        const all = [0, ...places, 960];
        all.slice(1).forEach((toM, i) => {
          const fromM = all[i] as number;
          if (toM - fromM <= spacingM + 1e-6) return;
          // The keep-out fills the interval: not another beacon would go in.
          expect(keptOut.some(([aM, bM]) => aM <= fromM + 1e-6 && bM >= toM - 1e-6)).toBe(true);
        });
      }),
      { seed: 11, numRuns: 500 },
    );
  });

  it('is mirrored where the stretch is', () => {
    fc.assert(
      fc.property(anyKeepOuts, fc.double({ min: 20, max: 90, noNaN: true }), (keptOut, spacingM) => {
        const mirrored = keptOut.map(([fromM, toM]): Interval => [960 - toM, 960 - fromM]).reverse();
        const there = layStretch(0, 960, spacingM, keptOut);
        const back = layStretch(0, 960, spacingM, mirrored, true);
        expect(back.map((m) => 960 - m).reverse()).toEqual(there.map((m) => expect.closeTo(m, 6)));
      }),
      { seed: 12, numRuns: 500 },
    );
  });
});

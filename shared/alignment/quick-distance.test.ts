import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { moveBy } from '../geodesy/segment.ts';
import { makeRuler } from './make-ruler.ts';
import { makeFarTest } from './quick-distance.ts';

const step = fc.tuple(fc.integer({ min: -400, max: 400 }), fc.integer({ min: -400, max: 400 }));

/** A line that wanders, and positions around it; near the antimeridian and far from the equator too. */
const scene = fc
  .record({
    start: fc.tuple(fc.constantFrom(-20, 179.999, -179.999), fc.double({ min: -75, max: 75, noNaN: true })),
    steps: fc.array(step, { minLength: 1, maxLength: 30 }),
    places: fc.array(fc.tuple(fc.integer({ min: -3000, max: 3000 }), fc.integer({ min: -3000, max: 3000 })), {
      minLength: 1,
      maxLength: 10,
    }),
  })
  .map(({ start, steps, places }) => {
    const line: LonLat[] = [start];
    for (const [east, north] of [...steps, [11, 7] as const])
      line.push(moveBy(line.at(-1) as LonLat, east, north));
    return { line, places: places.map(([east, north]) => moveBy(start, east, north)) };
  });

describe('quick tests in degrees', () => {
  it('never pass over the nearest place of a line', () => {
    fc.assert(
      fc.property(scene, ({ line, places }) => {
        const ruler = makeRuler(line);
        for (const at of places) {
          // Lines of two positions are measured without any test.
          const each = line
            .slice(1)
            .flatMap((b, i) => {
              const a = line[i] as LonLat;
              return a[0] === b[0] && a[1] === b[1] ? [] : [makeRuler([a, b]).locate(at).distanceM];
            })
            .sort((a, b) => a - b);
          expect(ruler.locate(at).distanceM).toBe(each[0]);
        }
      }),
      { seed: 31, numRuns: 400 },
    );
  });

  it('never say "farther" of what is nearer, and do say it of what is far away', () => {
    let said = 0;
    fc.assert(
      fc.property(scene, ({ line, places }) => {
        const ruler = makeRuler(line);
        const isFarther = makeFarTest(ruler);
        for (const at of places) {
          const { distanceM } = ruler.locate(at);
          expect(isFarther(at, distanceM)).toBe(false);
          if (isFarther(at, distanceM / 2)) said += 1;
        }
      }),
      { seed: 32, numRuns: 400 },
    );
    expect(said).toBeGreaterThan(100);
  });
});

import { area, kinks, polygon } from '@turf/turf';
import { describe, expect, it } from 'vitest';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { moveBy } from '../geodesy/segment.ts';
import { buildCorridor } from './build-corridor.ts';
import { makeRuler } from './make-ruler.ts';

const drawn = (points: readonly (readonly [number, number])[]): readonly LonLat[] =>
  points.map(([eastM, northM]) => moveBy([-20, 46], eastM, northM));
const toPolygon = (ring: readonly LonLat[]) => polygon([ring.map(([lon, lat]) => [lon, lat])]);
/** Positive where the ring runs counter-clockwise, as RFC 7946 wants an outer one. */
const turn = (ring: readonly LonLat[]) =>
  ring.slice(1).reduce((sum, [x, y], i) => {
    const [x0, y0] = ring[i] as LonLat;
    return sum + (x0 + 20) * (y - 46) - (x + 20) * (y0 - 46);
  }, 0);

describe('buildCorridor', () => {
  const straight = makeRuler(
    drawn([
      [0, 0],
      [300, 0],
    ]),
  );

  it('is as wide and long as asked, closed and counter-clockwise', () => {
    const ring = buildCorridor(straight, 100, 200, 4.5) as readonly LonLat[];
    expect(ring.at(-1)).toEqual(ring[0]);
    expect(turn(ring)).toBeGreaterThan(0);
    // 100 m by 9 m; Turf's areas are spherical, up to 0.7 % off here.
    expect(area(toPolygon(ring)) / 900).toBeCloseTo(1, 1.9);
    // Densified to 5 m, as every offset.
    expect(ring.length).toBe(2 * 21 + 1);
    const sides = ring.map((at) => straight.locate(at).offsetM);
    expect(Math.max(...sides)).toBeCloseTo(4.5, 2);
    expect(Math.min(...sides)).toBeCloseTo(-4.5, 2);
  });

  it('lies to the right of the line where its middle does', () => {
    const ring = buildCorridor(straight, 100, 200, 4.5, 1.5) as readonly LonLat[];
    const sides = ring.map((at) => straight.locate(at).offsetM);
    expect(Math.max(...sides)).toBeCloseTo(6, 2);
    expect(Math.min(...sides)).toBeCloseTo(-3, 2);
  });

  it('is cut to the line, and nothing where nothing is left', () => {
    const ring = buildCorridor(straight, -50, 30, 4) as readonly LonLat[];
    const along = ring.map((at) => straight.locate(at).chainageM);
    expect([Math.min(...along), Math.max(...along)].map((m) => Math.round(m * 100) / 100)).toEqual([0, 30]);
    expect(buildCorridor(straight, 300, 340, 4)).toBeUndefined();
    expect(buildCorridor(straight, 50, 50, 4)).toBeUndefined();
  });

  // 4 m is tighter than the corridor is wide: its inner edge would run backwards.
  it.each([4, 10, 25, 40])('does not cross itself in a bend of %s m radius', (radiusM) => {
    const bend = Array.from({ length: 19 }, (_, i): [number, number] => {
      const rad = (i * 5 * Math.PI) / 180;
      return [radiusM * Math.sin(rad), radiusM * (1 - Math.cos(rad))];
    });
    const ruler = makeRuler(drawn([[-60, 0], ...bend, [radiusM, radiusM + 60]]));
    const ring = buildCorridor(ruler, 0, ruler.lengthM, 7) as readonly LonLat[];
    expect(kinks(toPolygon(ring)).features).toEqual([]);
  });
});

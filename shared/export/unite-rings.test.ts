import { check } from '@placemarkio/check-geojson';
import { area } from '@turf/turf';
import type { Position } from 'geojson';
import { describe, expect, it } from 'vitest';
import { uniteRings } from './unite-rings.ts';

const box = (west: number, south: number, east: number, north: number): Position[] => [
  [west, south],
  [east, south],
  [east, north],
  [west, north],
  [west, south],
];
/** Twice the signed area in square degrees: positive is counter-clockwise. */
const turn = (ring: readonly Position[]) =>
  ring.slice(1).reduce((sum, [x = 0, y = 0], i) => {
    const [x0 = 0, y0 = 0] = ring[i] as Position;
    return sum + x0 * y - x * y0;
  }, 0);

describe('uniteRings', () => {
  it.each([
    ['a ring of its own', [box(0, 0, 1, 1)], [1]],
    ['two that overlap', [box(0, 0, 2, 1), box(1, 0, 3, 1)], [1]],
    ['two that are apart', [box(0, 0, 1, 1), box(2, 0, 3, 1)], [1, 1]],
    ['four round a yard', [box(0, 0, 3, 1), box(0, 2, 3, 3), box(0, 0, 1, 3), box(2, 0, 3, 3)], [2]],
    ['one that runs clockwise', [[...box(0, 0, 1, 1)].reverse()], [1]],
  ])('gives %s as RFC 7946 wants it', (_, rings, counts) => {
    const geometry = uniteRings(rings.map((ring) => ring.map(([x = 0, y = 0]) => [x / 1000, y / 1000])));
    check(JSON.stringify({ type: 'Feature', properties: {}, geometry }));
    expect(geometry.coordinates.map((part) => part.length)).toEqual(counts);
    for (const [outer = [], ...holes] of geometry.coordinates) {
      expect(turn(outer)).toBeGreaterThan(0);
      for (const hole of holes) expect(turn(hole)).toBeLessThan(0);
    }
  });

  it('counts a place that two rings share once', () => {
    const one = area({ type: 'MultiPolygon', coordinates: [[box(0, 0, 0.003, 0.001)]] });
    const united = uniteRings([box(0, 0, 0.002, 0.001), box(0.001, 0, 0.003, 0.001)]);
    expect(area(united) / one).toBeCloseTo(1, 6);
  });
});

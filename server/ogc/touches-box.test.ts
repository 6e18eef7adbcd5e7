import { bboxPolygon, booleanIntersects, feature } from '@turf/turf';
import fc from 'fast-check';
import type { Geometry } from 'geojson';
import { describe, expect, it } from 'vitest';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { touchesBox } from './touches-box.ts';

const box: BBox = [0, 0, 10, 10];

describe('a geometry', () => {
  it.each<[string, boolean, Geometry]>([
    ['a point inside', true, { type: 'Point', coordinates: [5, 5] }],
    ['a point on the corner', true, { type: 'Point', coordinates: [10, 10] }],
    ['a point outside', false, { type: 'Point', coordinates: [10.1, 5] }],
    ['a line through, without an end inside', true, line([-1, 4], [11, 6])],
    ['a line past the corner, its bounds in the box', false, line([-3, 2], [2, -3])],
    ['a line along an edge', true, line([-5, 10], [-1, 10], [4, 10])],
    ['a line on an edge’s line, but beyond its end', false, line([11, 10], [14, 10])],
    ['a line that stands still inside', true, line([3, 3], [3, 3])],
    [
      'the second of two lines',
      true,
      {
        type: 'MultiLineString',
        coordinates: [
          [
            [20, 20],
            [30, 30],
          ],
          [
            [9, 9],
            [20, 20],
          ],
        ],
      },
    ],
    [
      'neither of two lines on both sides',
      false,
      {
        type: 'MultiLineString',
        coordinates: [
          [
            [-2, 0],
            [-1, 9],
          ],
          [
            [11, 0],
            [12, 9],
          ],
        ],
      },
    ],
  ])('%s: %s', (_, isIn, geometry) => {
    expect(touchesBox(geometry, box)).toBe(isIn);
  });

  it('is judged as another library does', () => {
    const place = fc.tuple(fc.integer({ min: -9, max: 19 }), fc.integer({ min: -9, max: 19 }));
    let inside = 0;
    fc.assert(
      fc.property(place, place, (from, to) => {
        fc.pre(from[0] !== to[0] || from[1] !== to[1]);
        const expected = booleanIntersects(feature(line(from, to)), bboxPolygon([...box]));
        inside += Number(expected);
        expect(touchesBox(line(from, to), box)).toBe(expected);
      }),
      { seed: 7, numRuns: 500 },
    );
    expect(inside).toBeGreaterThan(100);
    expect(inside).toBeLessThan(490);
  });
});

function line(...coordinates: [number, number][]): Geometry {
  return { type: 'LineString', coordinates };
}

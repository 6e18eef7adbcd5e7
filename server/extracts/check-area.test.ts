import { describe, expect, it } from 'vitest';
import { describeRefusal } from '../../shared/outcome/words.ts';
import type { Area } from '../../shared/wire/survey.ts';
import { checkArea } from './check-area.ts';

const reasonOf = (area: Area): unknown => {
  const checked = checkArea(area);
  if (checked.ok) return undefined;
  expect(checked.refusal.code).toBe('area-invalid');
  expect(describeRefusal(checked.refusal)).not.toContain('unknown');
  return checked.refusal.context.reason;
};

/** Area of a box on the sphere that Turf uses: R² · Δλ · (sin φ₂ − sin φ₁), written out independently. */
function boxKm2([west, south, east, north]: readonly [number, number, number, number]): number {
  const radians = Math.PI / 180;
  const band = Math.sin(north * radians) - Math.sin(south * radians);
  return 6371.0088 ** 2 * (east - west) * radians * band;
}

describe('checkArea', () => {
  it('measures a box', () => {
    const bbox: [number, number, number, number] = [7.4053, 43.7232, 7.4448, 43.7544];
    const checked = checkArea({ bbox });
    if (!checked.ok) throw new Error('refused');
    expect(checked.value.bbox).toEqual(bbox);
    expect(Math.abs(checked.value.areaKm2 / boxKm2(bbox) - 1)).toBeLessThan(0.005);
  });

  it('takes a ring, closed or not, with its bounds and half the area of its box', () => {
    const corners: [number, number][] = [
      [10, 60],
      [10.2, 60],
      [10.2, 60.1],
    ];
    const open = checkArea({ ring: corners });
    const closed = checkArea({ ring: [...corners, [10, 60]] });
    const doubled = checkArea({ ring: [[10, 60], ...corners, [10, 60]] });
    if (!open.ok) throw new Error('refused');
    expect(open.value.bbox).toEqual([10, 60, 10.2, 60.1]);
    expect(open.value.areaKm2 / boxKm2(open.value.bbox as [number, number, number, number])).toBeCloseTo(
      0.5,
      2,
    );
    expect(closed).toEqual(open);
    expect(doubled).toEqual(open);
  });

  it.each<[string, [number, number, number, number], RegExp]>([
    ['NaN', [Number.NaN, 0, 1, 1], /not a number/],
    ['infinite', [0, 0, Number.POSITIVE_INFINITY, 1], /not a number/],
    ['west is east', [1, 0, 1, 1], /west must be less than east/],
    ['across the antimeridian', [179.9, 0, -179.9, 0.1], /west must be less than east/],
    ['south above north', [0, 1, 1, 0], /south must be less than north/],
    ['thinner than is sent', [0, 0, 1e-9, 0.1], /west must be less than east/],
    ['beyond 180°', [180, 0, 180.1, 0.1], /outside the globe/],
    ['beyond the pole', [0, 89.9, 0.1, 90.1], /outside the globe/],
    ['swapped latitude and longitude', [43.7, 107.4, 43.8, 107.5], /outside the globe/],
  ])('refuses a box: %s', (_, bbox, reason) => {
    expect(reasonOf({ bbox })).toMatch(reason);
  });

  it.each<[string, [number, number][], RegExp]>([
    ['none', [], /at least three different corners/],
    [
      'two',
      [
        [0, 0],
        [0.1, 0.1],
        [0, 0],
      ],
      /at least three different corners/,
    ],
    [
      'there and back',
      [
        [0, 0],
        [0.1, 0.1],
        [0.2, 0.2],
        [0.1, 0.1],
        [0, 0],
      ],
      /passes one corner twice/,
    ],
    [
      'on one line',
      [
        [0, 0],
        [0.1, 0.1],
        [0.2, 0.2],
        [0, 0],
      ],
      /on one line/,
    ],
    [
      'a bow tie',
      [
        [0, 0],
        [0.1, 0.1],
        [0.1, 0],
        [0, 0.1],
        [0, 0],
      ],
      /crosses itself/,
    ],
    [
      'a corner on an edge',
      [
        [0, 0],
        [0.2, 0],
        [0.2, 0.2],
        [0.1, 0],
        [0, 0.2],
        [0, 0],
      ],
      /touches or crosses/,
    ],
    [
      'two rings in a point',
      [
        [0, 0],
        [0.1, 0],
        [0.1, 0.1],
        [0, 0],
        [-0.1, 0.1],
        [-0.1, 0],
        [0, 0],
      ],
      /twice/,
    ],
    [
      'not a number',
      [
        [0, 0],
        [Number.NaN, 0],
        [0.1, 0.1],
        [0, 0],
      ],
      /not a number/,
    ],
    [
      'off the globe',
      [
        [0, 89],
        [0.1, 91],
        [0.2, 89],
        [0, 89],
      ],
      /outside the globe/,
    ],
  ])('refuses a ring: %s', (_, ring, reason) => {
    expect(reasonOf({ ring })).toMatch(reason);
  });

  it('refuses what is larger than the limit, and says both', () => {
    const checked = checkArea({ bbox: [10, 59, 11, 60] });
    expect(checked).toMatchObject({
      ok: false,
      refusal: { code: 'area-too-large', context: { limitKm2: 2500 } },
    });
    expect(checked.ok || describeRefusal(checked.refusal)).toMatch(
      /^The area is 62\d\d km², the limit is 2500 km²/,
    );
    expect(checkArea({ bbox: [10, 59, 11, 60] }, 7000).ok).toBe(true);
  });
});

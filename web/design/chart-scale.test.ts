import { describe, expect, it } from 'vitest';
import type { RouteDrive } from '../../shared/drive/drive.ts';
import { findErrorSpan, findNearest, groupMarks, listTicks, makeScale } from './chart-scale.ts';

const route: RouteDrive = {
  routeId: 'r',
  lengthM: 1000,
  atM: [0, 500, 1000],
  errorM: {
    without: { p5: [-5, -90, -200], p50: [0, -10, -20], p95: [5, 40, 100] },
    with: { p5: [-5, -8, -12], p50: [0, 0, 0], p95: [5, 7, 9] },
  },
};

describe('a scale', () => {
  it('puts both ends where they belong and goes back, upside down too', () => {
    const scale = makeScale([-10, 30], [200, 0]);
    expect([-10, 0, 30].map(scale.toPx)).toEqual([200, 150, 0]);
    expect(scale.toValue(scale.toPx(12.5))).toBeCloseTo(12.5, 9);
  });
});

describe('listTicks', () => {
  it('gives round numbers inside the span, zero among them', () => {
    expect(listTicks([0, 1840], 4)).toEqual([0, 500, 1000, 1500]);
    expect(listTicks([-215, 115], 4)).toEqual([-200, -100, 0, 100]);
    expect(listTicks([-1.1, 1.1], 4)).toEqual([-1, 0, 1]);
  });
});

describe('findErrorSpan', () => {
  it('holds both bands, or that with beacons alone', () => {
    const [least, most] = findErrorSpan(route, false);
    expect([least, most]).toEqual([-215, 115]);
    const [leastWith, mostWith] = findErrorSpan(route, true);
    expect(leastWith).toBeCloseTo(-13.05, 9);
    expect(mostWith).toBeCloseTo(10.05, 9);
  });

  it('is no point where there is no error at all', () => {
    const none = { p5: [0, 0], p50: [0, 0], p95: [0, 0] };
    const [least, most] = findErrorSpan({ ...route, errorM: { without: none, with: none } }, false);
    expect(least).toBeLessThan(0);
    expect(most).toBeGreaterThan(0);
  });
});

describe('findNearest', () => {
  it('finds the nearest, and the ends beyond them', () => {
    expect([-50, 240, 260, 5000].map((wanted) => findNearest(route.atM, wanted))).toEqual([0, 0, 1, 2]);
  });
});

describe('marks over a chart', () => {
  it('are numbered in order, those too near each other together', () => {
    expect(groupMarks([10, 40, 50, 60, 200])).toEqual([
      { px: 10, label: '1' },
      { px: 50, label: '2–4' },
      { px: 200, label: '5' },
    ]);
    expect(groupMarks([])).toEqual([]);
  });
});

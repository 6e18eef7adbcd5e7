import { describe, expect, it } from 'vitest';
import { findWaitS, readRetryAfter } from './overpass-retry.ts';

const NOW_MS = Date.UTC(2026, 10, 25, 11, 0, 0);

describe('readRetryAfter', () => {
  it.each([
    ['30', 30],
    [' 0 ', 0],
    ['Wed, 25 Nov 2026 11:01:30 GMT', 90],
    ['Wednesday, 25-Nov-26 11:00:05 GMT', 5],
    ['Wed, 25 Nov 2026 10:00:00 GMT', 0],
    ['-5', undefined],
    ['1.5', undefined],
    ['soon', undefined],
    ['2026', 2026],
    ['Wed, no date', undefined],
    ['', undefined],
    [null, undefined],
  ])('%j is %j s', (header, expected) => {
    expect(readRetryAfter(header, NOW_MS)).toBe(expected);
  });
});

describe('findWaitS', () => {
  it('doubles from 5 s to 120 s when the server names no time', () => {
    expect([1, 2, 3, 4, 5, 6, 60].map((attempt) => findWaitS(attempt, undefined))).toEqual([
      5, 10, 20, 40, 80, 120, 120,
    ]);
  });

  it('is what the server asked for, at least 1 s, and nothing above 120 s', () => {
    expect([0, 30, 120, 121].map((askedS) => findWaitS(1, askedS))).toEqual([1, 30, 120, undefined]);
  });
});

import { describe, expect, it } from 'vitest';
import {
  formatChainage,
  formatDate,
  formatFineChainage,
  formatNumber,
  formatPerDay,
  formatRough,
  formatShort,
  parseChainage,
} from './format.ts';

describe('chainage', () => {
  it.each([
    [0, '0+000'],
    [39.66, '0+040'],
    [340, '0+340'],
    [999.6, '1+000'],
    [1240.4, '1+240'],
    [12_003, '12+003'],
  ])('of %d m is written %s', (chainageM, text) => {
    expect(formatChainage(chainageM)).toBe(text);
  });

  it.each([
    [0, '0+000.0'],
    [78.84, '0+078.8'],
    [999.96, '1+000.0'],
    [12_003.25, '12+003.3'],
  ])('of %d m is written %s to the decimetre', (chainageM, text) => {
    expect(formatFineChainage(chainageM)).toBe(text);
  });

  it.each([
    ['340', 340],
    [' 340.5 m', 340.5],
    ['340,5', 340.5],
    ['0+340.5', 340.5],
    ['1 + 240', 1240],
    ['2+007', 2007],
    ['', undefined],
    ['-5', undefined],
    ['1+2400', undefined],
    ['km 3', undefined],
  ])('typed as "%s" is %s', (text, metres) => {
    expect(parseChainage(text)).toBe(metres);
  });
});

describe('figures', () => {
  it('are grouped and keep their decimals', () => {
    expect([formatNumber(8019.4), formatNumber(39.655, 1), formatNumber(0, 2)]).toEqual([
      '8,019',
      '39.7',
      '0.00',
    ]);
  });

  it('give dates as days', () => {
    expect(formatDate('2026-01-31T23:59:00Z')).toBe('2026-01-31');
  });
});

describe('large and small counts', () => {
  it('have no more digits than can be meant', () => {
    expect(formatRough(76_751_835)).toBe('76.8 million');
    expect(formatShort(340_000)).toBe('340k');
    expect([formatPerDay(0), formatPerDay(3.14), formatPerDay(18_721.6)]).toEqual(['0', '3.1', '18,722']);
  });
});

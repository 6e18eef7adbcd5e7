import { describe, expect, it } from 'vitest';
import { readDatetime } from './read-datetime.ts';

const NOON = 1772366400000; // 2026-03-01T12:00:00Z, by `date -u -d 2026-03-01T12:00:00Z +%s`

describe('datetime', () => {
  it.each([
    ['2026-03-01T12:00:00Z', NOON, NOON],
    ['2026-03-01t12:00:00z', NOON, NOON],
    ['2026-03-01T13:30:00.250+01:30', NOON + 250, NOON + 250],
    ['2026-03-01T13:30:00 01:30', NOON, NOON],
    ['2026-03-01T07:00:00-05:00', NOON, NOON],
    ['2026-03-01', NOON - 43_200_000, NOON + 43_199_999],
    ['2026-03-01T12:00:00Z/2026-03-01T12:00:01Z', NOON, NOON + 1000],
    ['2026-03-01T12:00:00Z/2026-03-01', NOON, NOON + 43_199_999],
    ['../2026-03-01T12:00:00Z', Number.NEGATIVE_INFINITY, NOON],
    ['/2026-03-01T12:00:00Z', Number.NEGATIVE_INFINITY, NOON],
    ['2026-03-01T12:00:00Z/..', NOON, Number.POSITIVE_INFINITY],
    ['2026-03-01T12:00:00Z/', NOON, Number.POSITIVE_INFINITY],
    ['2024-02-29T00:00:00Z', 1709164800000, 1709164800000],
  ])('%s', (text, fromMs, toMs) => {
    expect(readDatetime(text)).toEqual({ ok: true, value: { fromMs, toMs } });
  });

  it.each([
    '',
    '..',
    '/',
    '../..',
    'yesterday',
    'NaN',
    '2026',
    '2026-3-1',
    '2026-02-29',
    '2026-13-01T00:00:00Z',
    '2026-02-30T00:00:00Z',
    '2026-01-01T24:00:00Z',
    '2026-01-01T00:60:00Z',
    '2026-01-01T00:00:00',
    '2026-01-01T00:00:00+25:00',
    '2026-01-01 00:00:00Z',
    '2026-01-02/2026-01-01',
    '2026-01-01/2026-01-02/2026-01-03',
    '2026-01-01/x',
    '1767225600',
  ])('refuses %s', (text) => {
    expect(readDatetime(text)).toMatchObject({
      ok: false,
      refusal: { code: 'parameter-invalid', context: { name: 'datetime' } },
    });
  });
});

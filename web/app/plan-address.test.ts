import { describe, expect, it } from 'vitest';
import { fromSearch, toSearch } from './address.ts';
import { readPlan } from './plan-address.ts';

describe('a programme in the address', () => {
  it('is read as it is written', () => {
    const plan = { years: 4, budgetPerYear: 40_000.5, nightsPerYear: 6 };
    const search = toSearch({ survey: 'a', panel: 'programme', plan });
    expect(search).toBe('?survey=a&panel=programme&plan=4/40000.5/6');
    expect(fromSearch(search)).toEqual({ survey: 'a', panel: 'programme', plan });
  });

  it.each([
    null,
    '',
    '4/40000',
    '4/40000/6/1',
    '4/x/6',
    '0/40000/6',
    '2.5/1/1',
    '4/-1/6',
    '99/1/1',
    '4/1e9/6',
  ])('is left out where it cannot be: %s', (text) => {
    expect(readPlan(text)).toBeUndefined();
  });
});

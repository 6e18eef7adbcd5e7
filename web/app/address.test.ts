import { describe, expect, it } from 'vitest';
import { fromSearch, toSearch } from './address.ts';

describe('the page’s address', () => {
  it('says and reads the same', () => {
    const address = {
      survey: 'aldermouth',
      tunnel: 't19 & co',
      map: { zoom: 14.25, lat: 46.00123, lon: -20.04321 },
    };
    expect(toSearch(address)).toBe('?survey=aldermouth&tunnel=t19+%26+co&map=14.25/46.00123/-20.04321');
    expect(fromSearch(toSearch(address))).toEqual(address);
    for (const panel of ['report', 'changes', 'ranking', 'programme', 'evidence'] as const) {
      expect(fromSearch(toSearch({ survey: 'a', panel }))).toEqual({ survey: 'a', panel });
    }
  });

  it('names the tunnels of the report to print', () => {
    const address = { survey: 'a', panel: 'print', tunnels: ['t1', 't2'] } as const;
    expect(toSearch(address)).toBe('?survey=a&panel=print&tunnels=t1,t2');
    expect(fromSearch(toSearch(address))).toEqual(address);
    expect(fromSearch('?survey=a&tunnels=t1')).toEqual({ survey: 'a' });
  });

  it('is empty where there is nothing to say', () => {
    expect([toSearch({}), fromSearch('')]).toEqual(['', {}]);
  });

  it.each([
    '?map=12/46',
    '?map=12//-20',
    '?map=twelve/46/-20',
    '?map=12/95/-20',
    '?map=12/46/-200',
    '?map=30/46/-20',
    '?panel=cellar',
    '?tunnel=without-a-survey',
    '?survey=',
  ])('leaves out what it cannot understand: %s', (search) => {
    expect(fromSearch(search)).toEqual({});
  });
});

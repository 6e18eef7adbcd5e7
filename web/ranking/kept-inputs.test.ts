import { describe, expect, it } from 'vitest';
import { createKeptInputs, FIRST_INPUTS, toProgrammeRequest, toRankingRequest } from './kept-inputs.ts';

function makeStorage(first: Record<string, string> = {}) {
  const items = new Map(Object.entries(first));
  return {
    getItem: (key: string) => items.get(key) ?? null,
    setItem: (key: string, value: string) => void items.set(key, value),
  };
}

describe('kept inputs', () => {
  it('come back after a reload, each survey by itself', () => {
    const storage = makeStorage();
    const factor = { name: 'detour', weight: 2, values: { t1: 3 } };
    createKeptInputs(() => storage)
      .of('a')
      .patch({ costs: { nightCost: 5000 }, factors: [factor] });
    const again = createKeptInputs(() => storage);
    expect(again.of('a').get()).toEqual({ ...FIRST_INPUTS, costs: { nightCost: 5000 }, factors: [factor] });
    expect(again.of('b').get()).toEqual(FIRST_INPUTS);
  });

  it.each(['not json', 'null', '7', '{"factors": 3}', '{"factors": [], "filters": null}'])(
    'begin anew where what was kept is no use: %s',
    (kept) => {
      const storage = makeStorage({ 'boremark-ranking-a': kept });
      expect(
        createKeptInputs(() => storage)
          .of('a')
          .get(),
      ).toEqual(FIRST_INPUTS);
    },
  );

  it('last as long as the page where the storage is closed', () => {
    const kept = createKeptInputs(() => {
      throw new Error('closed');
    });
    kept.of('a').patch({ years: 7 });
    expect(kept.of('a').get().years).toBe(7);
  });

  it('ask only for what was set', () => {
    expect(toRankingRequest(FIRST_INPUTS)).toEqual({ costs: {}, factors: [], filters: [] });
    expect(toProgrammeRequest(FIRST_INPUTS)).not.toHaveProperty('crews');
    expect(toProgrammeRequest({ ...FIRST_INPUTS, crews: 3 })).toMatchObject({ crews: 3, costs: {} });
  });
});

import { expect, it } from 'vitest';
import { LatestMap } from './latest-map.ts';

it('what was used latest stays, the rest goes', () => {
  const map = new LatestMap<string, number>(2);
  map.set('a', 1).set('b', 2);
  expect(map.get('a')).toBe(1);
  map.set('c', 3);
  expect([...map.keys()]).toEqual(['a', 'c']);
  map.set('a', 4);
  map.set('d', 5);
  expect([...map.entries()]).toEqual([
    ['a', 4],
    ['d', 5],
  ]);
  expect(map.get('c')).toBeUndefined();
});

import { describe, expect, it } from 'vitest';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { listTunnels, type StatusFilter } from './list-tunnels.ts';

const row = (id: string, more: Partial<TunnelRow>): TunnelRow =>
  ({
    id,
    name: id,
    ref: undefined,
    kind: 'tunnel',
    restricted: false,
    exitCount: 0,
    lengthM: 100,
    status: 'planned',
    ...more,
  }) as TunnelRow;

const rows = [
  row('a', { name: 'Harbour Tunnel', ref: 'M7', lengthM: 2600 }),
  row('b', { name: 'Kell Hill Interchange', ref: 'A31', exitCount: 4, lengthM: 900 }),
  row('c', { name: 'Túnel de la Ría', lengthM: 300 }),
  row('d', { name: 'Gannet Gallery', kind: 'gallery' }),
  row('e', { name: 'Car park', restricted: true, exitCount: 1 }),
  row('f', { name: 'Twin', lengthM: 300 }),
];
const list = (text: string, showsCovered = false, showsRestricted = false, status: StatusFilter = 'all') =>
  listTunnels(rows, { text, showsCovered, showsRestricted, status }).map(({ id }) => id);

describe('the list of tunnels', () => {
  it('has most exits first, then the longest, then by id; galleries and private ways are hidden', () => {
    expect(list('')).toEqual(['b', 'a', 'c', 'f']);
  });

  it('shows galleries and private ways when asked', () => {
    expect(list('', true)).toContain('d');
    expect(list('', false, true)).toEqual(['b', 'e', 'a', 'c', 'f']);
  });

  it.each([
    ['harbour', ['a']],
    ['m7', ['a']],
    ['hill kell', ['b']],
    ['tunel ria', ['c']],
    ['  ', ['b', 'a', 'c', 'f']],
    ['nowhere', []],
  ])('filters by name and road number: "%s"', (text, ids) => {
    expect(list(text)).toEqual(ids);
  });

  it('knows which lack beacons, and each status by itself', () => {
    const some = [
      row('n', { status: 'none' }),
      row('p', { status: 'planned' }),
      row('q', { status: 'partly equipped' }),
      row('e', { status: 'equipped' }),
    ];
    const by = (status: StatusFilter) =>
      listTunnels(some, { text: '', showsCovered: false, showsRestricted: false, status }).map(
        ({ id }) => id,
      );
    expect(by('lacking')).toEqual(['p', 'q']);
    expect(by('all')).toHaveLength(4);
    expect([by('none'), by('planned'), by('partly equipped'), by('equipped')]).toEqual([
      ['n'],
      ['p'],
      ['q'],
      ['e'],
    ]);
  });
});

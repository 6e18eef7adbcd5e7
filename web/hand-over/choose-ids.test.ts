import { describe, expect, it } from 'vitest';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { chooseIds } from './choose-ids.ts';

const row = (id: string) => ({ id }) as TunnelRow;
const all = ['a', 'b', 'c'].map(row);

describe('the tunnels of a hand-over', () => {
  const from = { all, shown: [row('c'), row('a')], openId: 'b', picked: new Set(['c', 'gone']) };
  it.each([
    ['all', undefined],
    ['shown', ['c', 'a']],
    ['open', ['b']],
    ['picked', ['c']],
  ] as const)('%s: %j', (choice, wanted) => {
    expect(chooseIds(choice, from)).toEqual(wanted);
  });

  it('are not named where the table shows all, and none where no tunnel is open', () => {
    expect(chooseIds('shown', { ...from, shown: all })).toBeUndefined();
    expect(chooseIds('open', { ...from, openId: undefined })).toEqual([]);
  });
});

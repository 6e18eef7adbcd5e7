import { describe, expect, it } from 'vitest';
import { buildNetwork, NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { GroupingOverride } from '../../shared/network/group-links.ts';
import { listComplexNetworks } from '../../shared/pipeline/build-survey.ts';
import { drawPlace } from '../../tests/places/draw-place.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { listGroupings } from './list-groupings.ts';
import { findJoin, listOverrides } from './list-overrides.ts';

const tags = { highway: 'primary', tunnel: 'yes', oneway: 'yes', name: 'Hill Road' };
/** Twin bores, the eastbound one with a fork. */
const place = drawPlace({
  nodes: { 1: [0, 0], 2: [300, 0], 3: [600, 0], 4: [500, -60], 5: [600, 25], 6: [0, 25] },
  ways: [
    { id: 11, nodes: [1, 2], tags },
    { id: 12, nodes: [2, 3], tags },
    { id: 13, nodes: [2, 4], tags },
    { id: 14, nodes: [5, 6], tags },
  ],
});

function groupings(overrides: readonly GroupingOverride[] = []) {
  const [first] = listComplexNetworks(buildNetwork(place, { ...NETWORK_RULES, overrides }).value);
  if (first === undefined) throw new Error('no tunnel');
  return listGroupings(first);
}

describe('why a tunnel is one', () => {
  it('names the two bores that each reason brings together, and none where they share nodes', () => {
    const rows = groupings();
    expect(rows.map(({ grouping }) => grouping.reason)).toEqual(['shared-nodes', 'same-name']);
    expect(rows[0]?.sides).toBeUndefined();
    const [one, other] = rows[1]?.sides ?? [];
    expect(one?.name).toMatch(/^Hill Road, heading east, 8\d\d m$/);
    expect(other?.name).toBe('Hill Road, heading west, 600 m');
    expect([...new Set(one?.wayIds)].sort()).toEqual([11, 12, 13]);
    expect(one?.wayIds).toContain(one?.wayId);
    expect(other?.wayId).toBe(14);
  });

  it('finds the join by hand behind a reason, from either side', () => {
    const [row] = groupings([{ kind: 'join', ways: [14, 12] }]).filter((one) => one.sides !== undefined);
    expect(row?.grouping.reason).toBe('by-hand');
    const sides = row?.sides ?? (undefined as never);
    const join = { commandId: 'join-0001', kind: 'join', ways: [14, 12] as [number, number] } as const;
    expect(findJoin(sides, [join])).toBe(join);
    expect(
      findJoin(sides, [
        { ...join, kind: 'split' },
        { ...join, ways: [11, 12] },
      ]),
    ).toBeUndefined();
  });
});

describe('what people said about a tunnel', () => {
  const row = (id: string, name: string, osmWays: number[]) =>
    ({ id, name, osmWays }) as unknown as TunnelRow;
  const east = row('t1', 'East', [11, 12]);
  const rows = [east, row('t2', 'West', [14])];
  const split = { commandId: 'split-001', kind: 'split', ways: [14, 12] as [number, number] } as const;

  it('names the tunnel that was split off, and a way that is not there any more', () => {
    const gone = { commandId: 'join-0001', kind: 'join', ways: [11, 99] as [number, number] } as const;
    const elsewhere = { commandId: 'join-0002', kind: 'join', ways: [50, 51] as [number, number] } as const;
    expect(listOverrides(east, rows, [split, gone, elsewhere], new Set())).toEqual([
      { commandId: 'split-001', text: 'split by hand from West (way 14)' },
      {
        commandId: 'join-0001',
        text: 'joined by hand: way 11 and way 99, a bore that is not in the map data',
      },
    ]);
    expect(listOverrides(east, rows, [split], new Set(['split-001']))).toEqual([]);
  });
});

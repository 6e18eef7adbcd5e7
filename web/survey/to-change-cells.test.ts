import { describe, expect, it } from 'vitest';
import { comparison } from './comparison.fixture.ts';
import { type ChangeRow, toBeaconRows, toLinkRows, toTunnelRows } from './to-change-cells.ts';

const names: Readonly<Record<string, string>> = {
  t1: 'Harbour Tunnel',
  t2: 'Castle Tunnel',
  t3: 'Mill Tunnel',
  t4: 'Unnamed, on A3',
};
const nameOf = (id: string) => names[id] ?? id;
const textsOf = (rows: readonly ChangeRow[]) =>
  rows.map((row) => row.group ?? row.cells.map(({ text }) => text).join(' | '));

describe('the lists of a comparison', () => {
  it('name tunnels, what they took in, and their length before and after', () => {
    expect(textsOf(toTunnelRows(comparison, nameOf))).toEqual([
      'vanished | Unnamed, on A3 |  | 90 → –',
      'joined | Castle Tunnel, took in Mill Tunnel | shape | 400 → 800',
      'changed | Harbour Tunnel | shape, speed limits | 1,712 → 1,730',
    ]);
  });

  it('give links with their ways, what is gone first', () => {
    expect(textsOf(toLinkRows(comparison, nameOf))).toEqual([
      'vanished | Unnamed, on A3, way 12, 13 | 90 → – | –',
      'moved | Harbour Tunnel, way 11 | 1,712 → 1,730 | 20.4',
    ]);
  });

  it('give beacons by tunnel: placed by hand first, then by how far they move', () => {
    const rows = toBeaconRows(comparison, nameOf);
    expect(textsOf(rows)).toEqual([
      'Harbour Tunnel · 3 beacons',
      'moved | 0+340 → 1+361 | 4.5 | keeps its place',
      'moved | 0+340 → 1+361 | 20.1 | keeps its chainage',
      'moved | 0+340 → 1+361 | 12.3 | keeps its chainage',
      'Unnamed, on A3 · 1 beacon',
      'removed | 0+340 → – | – | its bore is gone',
    ]);
    expect(rows.map((row) => row.locked === true)).toEqual([false, true, false, false, false, false]);
    expect(new Set(rows.map(({ key }) => key)).size).toBe(rows.length);
  });

  it('leave the comparison itself in its order', () => {
    const before = structuredClone(comparison);
    toBeaconRows(comparison, nameOf);
    toLinkRows(comparison, nameOf);
    toTunnelRows(comparison, nameOf);
    expect(comparison).toEqual(before);
  });
});

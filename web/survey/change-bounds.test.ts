import { describe, expect, it } from 'vitest';
import { boundsOfAll, boundsOfBeacon, boundsOfLink, boundsOfTunnel } from './change-bounds.ts';
import { comparison } from './comparison.fixture.ts';
import type { BeaconChange, LinkChange } from './list-change-rows.ts';

describe('where a change is', () => {
  it('holds the old line and the new one, and never less than a street', () => {
    const [west, south, east, north] = boundsOfLink(comparison.links[0] as LinkChange) ?? [];
    expect([west, east]).toEqual([10, 10.01]);
    expect((south as number) < 50 && (north as number) > 50.0002).toBe(true);
    const [w, s, e, n] = boundsOfBeacon(comparison.beacons[1] as BeaconChange) ?? [0, 0, 0, 0];
    expect(e - w).toBeCloseTo(0.0011, 9);
    expect(n - s).toBeCloseTo(0.0011, 9);
    expect([w < 10.004, e > 10.0041, s < 50, n > 50.0001]).toEqual([true, true, true, true]);
  });

  it('of a tunnel is that of its links, else its own place; of all is everything', () => {
    expect(boundsOfTunnel(comparison, 't1', [10, 50])[2]).toBe(10.01);
    const [west, , east] = boundsOfTunnel(comparison, 't2', [10.1, 50]);
    expect([west, east]).toEqual([expect.closeTo(10.09945, 9), expect.closeTo(10.10055, 9)]);
    expect(boundsOfAll(comparison)?.[2]).toBe(10.201);
    expect(boundsOfAll({ ...comparison, complexes: [], links: [], beacons: [] })).toBeUndefined();
  });
});

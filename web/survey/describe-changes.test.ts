import { describe, expect, it } from 'vitest';
import { comparison } from './comparison.fixture.ts';
import { describeChanges, hasChanges } from './describe-changes.ts';

describe('a comparison in words', () => {
  it('counts what changed, with the greatest shift of links and of beacons', () => {
    expect(describeChanges(comparison)).toEqual([
      '1 tunnel vanished, 1 joined, 1 changed.',
      '1 link vanished, 1 moved, by at most 20.4 m.',
      '1 beacon removed, 3 moved, by at most 20.1 m.',
      '18 tunnels and 400 beacons stay as they are.',
    ]);
    expect(hasChanges(comparison)).toBe(true);
  });

  it('says only what stays where nothing changed', () => {
    const same = { ...comparison, complexes: [], links: [], beacons: [] };
    expect(describeChanges(same)).toEqual(['18 tunnels and 400 beacons stay as they are.']);
    expect(hasChanges(same)).toBe(false);
  });
});

import { describe, expect, it } from 'vitest';
import { BEACON_PROFILES } from '../radio/profiles.ts';
import { findBeaconLife } from './beacon-life.ts';

describe('life of a beacon', () => {
  it('is what the charge lasts', () => {
    // By hand: 12 µC / 0.2 s + 1 µA = 61 µA, 534.7 mAh a year and 26 mAh by self-discharge, of 2080 mAh.
    const { years, meanUa, endsByShelf } = findBeaconLife(BEACON_PROFILES.standard);
    expect(meanUa).toBe(61);
    expect(years).toBeCloseTo(2080 / (0.061 * 8766 + 26), 9);
    expect(endsByShelf).toBe(false);
  });

  it('ends with the shelf life of the cell', () => {
    // 2600 mAh at 1 s and 80 % usable: about 16 years by charge alone.
    const beacon = { ...BEACON_PROFILES.standard, intervalMs: 1000, idleUa: 0 };
    expect(findBeaconLife({ ...beacon, shelfLifeYears: 40 }).years).toBeCloseTo(16, 0);
    expect(findBeaconLife({ ...beacon, shelfLifeYears: 10 })).toMatchObject({ years: 10, endsByShelf: true });
  });
});

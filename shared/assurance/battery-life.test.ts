import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/assurance.json';
import { batteryLifeYears, meanCurrentUa } from './battery-life.ts';

const cell = {
  capacityMah: 1000,
  usableShare: 0.8,
  selfDischargePerYear: 0.01,
  chargePerEventUc: 12,
  intervalS: 1,
  idleUa: 0,
};

describe('battery life (source in data/oracles/assurance.json)', () => {
  it.each(oracle.batteryLife.sixYearsAllow)(
    'is six years at $meanUa µA from $capacityMah mAh',
    ({ capacityMah, meanUa }) => {
      const plain = { usableShare: 1, selfDischargePerYear: 0, chargePerEventUc: 0, intervalS: 1 };
      expect(batteryLifeYears({ ...plain, capacityMah, idleUa: meanUa })).toBeCloseTo(6, 1);
    },
  );

  it.each(oracle.batteryLife.years)(
    'is about $years years from $capacityMah mAh at $intervalS s',
    ({ years, tolerance, ...use }) => {
      expect(Math.abs(batteryLifeYears({ ...cell, ...use }) - years)).toBeLessThan(tolerance);
    },
  );

  it('adds what flows between the events', () => {
    expect(meanCurrentUa({ ...cell, intervalS: 0.5, idleUa: 2 })).toBe(26);
  });

  it('is bounded by self-discharge alone', () => {
    expect(batteryLifeYears({ ...cell, chargePerEventUc: 0 })).toBeCloseTo(80, 9);
  });
});

import { describe, expect, it } from 'vitest';
import { checkPowerLimit } from './check-power-limit.ts';

describe('radiated power', () => {
  // EN 300 328: 10 dBm/MHz; FCC 15.247: 36 dBm.
  it('may be as much as the limit of the region', () => {
    expect(checkPowerLimit('europe', 10)).toMatchObject({ status: 'met', required: 10, found: 10 });
    const over = checkPowerLimit('europe', 10.5);
    expect(over).toMatchObject({ status: 'not met', required: 10, found: 10.5, unit: 'dBm' });
    expect(over.mend).toBe('weaker-beacons');
    expect(checkPowerLimit('united-states', 10.5)).toMatchObject({ status: 'met', required: 36 });
  });
});

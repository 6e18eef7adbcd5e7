import { describe, expect, it } from 'vitest';
import oracle from '../../data/oracles/drive.json';
import { steadyErrorM } from './closed-form.ts';

describe('the error at constant speeds', () => {
  const { assumedKmh, exitM, afterS, leads } = oracle.deadReckoning;

  it.each(leads)('leads by $leadM m where the estimate reaches the exit, at $kmh km/h', ({ kmh, leadM }) => {
    const drivenM = (kmh / 3.6) * afterS;
    const errorM = steadyErrorM({ drivenM, assumedMps: assumedKmh / 3.6, trueMps: kmh / 3.6 });
    expect(errorM).toBeCloseTo(leadM, 9);
    expect(drivenM + errorM).toBeCloseTo(exitM, 9);
  });

  it.each(oracle.betweenBeacons.errors)(
    'is $errorM m after $apartM m at $kmh km/h',
    ({ kmh, apartM, errorM }) => {
      const assumedMps = oracle.betweenBeacons.assumedKmh / 3.6;
      expect(steadyErrorM({ drivenM: apartM, assumedMps, trueMps: kmh / 3.6 })).toBeCloseTo(errorM, 9);
    },
  );

  it('has the error of the fix, and lags by v · latency where a late fix is shown', () => {
    const speeds = { assumedMps: 25, trueMps: 20 };
    expect(steadyErrorM({ drivenM: 0, ...speeds, fixErrorM: 7 })).toBe(7);
    // Shown 10 m past its place, at which it still puts the car.
    expect(steadyErrorM({ drivenM: 10, ...speeds, fixErrorM: 7, latencyS: 0.5 })).toBeCloseTo(7 - 10, 9);
    // 100 m later the estimate has gone 125 m on.
    expect(steadyErrorM({ drivenM: 110, ...speeds, fixErrorM: 7, latencyS: 0.5 })).toBeCloseTo(-3 + 25, 9);
  });
});

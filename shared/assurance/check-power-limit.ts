import type { Check } from '../placement/design.ts';
import { checkPower, type Region } from '../radio/power-limits.ts';

/** Holds a beacon's radiated power (EIRP, dBm) against the limit of a region. */
export function checkPowerLimit(region: Region, eirpDbm: number): Check {
  const limit = checkPower(eirpDbm).find((one) => one.region === region);
  if (limit === undefined) throw new Error(`no limit of power is known for the region ${region}`);
  const { isKept } = limit;
  return {
    rule: 'power-limit',
    unit: 'dBm',
    required: limit.limitDbm,
    found: eirpDbm,
    status: isKept ? 'met' : 'not met',
    where: [],
    ...(isKept ? {} : { mend: 'weaker-beacons' }),
  };
}

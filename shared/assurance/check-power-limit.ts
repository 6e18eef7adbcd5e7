import type { Check } from '../placement/design.ts';
import type { Rules } from '../placement/rules.ts';
import { POWER_LIMITS } from '../radio/power-limits.ts';
import { BEACON_PROFILES, eirpDbm } from '../radio/profiles.ts';

/** Holds the radiated power of the chosen beacons against the limit of the chosen region, dBm EIRP. */
export function checkPowerLimit({ beaconProfile, region }: Rules): Check {
  const limit = POWER_LIMITS.find((one) => one.region === region);
  if (limit === undefined) throw new Error(`no limit of power is known for the region ${region}`);
  const found = eirpDbm(BEACON_PROFILES[beaconProfile]);
  const isKept = found <= limit.limitDbm;
  return {
    rule: 'power-limit',
    unit: 'dBm',
    required: limit.limitDbm,
    found,
    status: isKept ? 'met' : 'not met',
    where: [],
    ...(isKept ? {} : { mend: 'weaker-beacons' }),
  };
}

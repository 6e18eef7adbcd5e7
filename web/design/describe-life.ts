import { findBeaconLife } from '../../shared/assurance/beacon-life.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { BEACON_PROFILES } from '../../shared/radio/profiles.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

/** The years that the chosen beacons are expected to send, and where that is from. */
export function describeLife({ beaconProfile }: Rules): { readonly text: string; readonly source: string } {
  const say = words.radio;
  const beacon = BEACON_PROFILES[beaconProfile];
  const { years, meanUa, endsByShelf } = findBeaconLife(beacon);
  const name = words.rules.options.beaconProfile[beaconProfile];
  const usable = say.percent(formatNumber(beacon.usableShare * 100));
  const from = say.lifeFrom(name, beacon.capacityMah, usable, formatNumber(meanUa));
  return {
    text: say.lifeYears(formatNumber(years, 1)),
    source: `${from} ${endsByShelf ? say.lifeByShelf : say.lifeByCharge}`,
  };
}

import type { BeaconProfile } from '../radio/profiles.ts';
import { batteryLifeYears, meanCurrentUa } from './battery-life.ts';

/** How long a beacon is expected to send, and what that follows from. */
export type BeaconLife = {
  readonly years: number;
  readonly meanUa: number;
  /** The cell's shelf life ends sooner than its charge. */
  readonly endsByShelf: boolean;
};

/** Expected years of a beacon's battery: what its charge lasts, at most the shelf life of the cell. */
export function findBeaconLife(beacon: BeaconProfile): BeaconLife {
  const use = { ...beacon, intervalS: beacon.intervalMs / 1000 };
  const byChargeYears = batteryLifeYears(use);
  const endsByShelf = byChargeYears > beacon.shelfLifeYears;
  return {
    years: endsByShelf ? beacon.shelfLifeYears : byChargeYears,
    meanUa: meanCurrentUa(use),
    endsByShelf,
  };
}

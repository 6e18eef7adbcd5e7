import type { ComplexId } from '../network/network.ts';
import type { LinkStretch } from '../radio/cover-bores.ts';
import type { Beacon, BeaconId } from './beacon.ts';
import type { Rules } from './rules.ts';

/** What follows from a complex, the survey's rules and a scheme. The same bytes wherever it is computed. */
export type Design = {
  readonly complexId: ComplexId;
  /** The values that were used. */
  readonly rules: Rules;
  readonly beacons: readonly Beacon[];
  /** Along which stretches each beacon is heard, in the order of `beacons`. */
  readonly coverage: readonly { readonly beaconId: BeaconId; readonly stretches: readonly LinkStretch[] }[];
};

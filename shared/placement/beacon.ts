import type { LineAddress } from '../alignment/line-address.ts';
import type { Side } from './rules.ts';

declare const brand: unique symbol;
export type BeaconId = string & { readonly [brand]: 'BeaconId' };

/** Why a beacon stands where it stands. */
export type BeaconRole = 'portal' | 'spacing' | 'decision' | 'branch' | 'manual';

/** Where a beacon shall stand. Longitude and latitude are derived (place-on-wall.ts), never stored. */
export type Beacon = {
  readonly id: BeaconId;
  readonly at: LineAddress;
  /** What it keeps when a newer extract is adopted: its chainage or its place. */
  readonly anchor: 'chainage' | 'position';
  readonly role: BeaconRole;
  readonly side: Side;
  /** From the centreline, positive to the right of the direction of chainage. */
  readonly offsetM: number;
  readonly heightM: number;
  /** A person put it here: it stays, and the rest is laid around it. */
  readonly locked: boolean;
};

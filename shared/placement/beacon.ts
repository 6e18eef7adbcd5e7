import type { LinkId } from '../network/network.ts';
import type { Side } from './rules.ts';

declare const brand: unique symbol;
export type BeaconId = string & { readonly [brand]: 'BeaconId' };

/** A place on a link: never a bare number. `chainageM` runs from 0 to the link's length. */
export type LineAddress = { readonly linkId: LinkId; readonly chainageM: number };

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

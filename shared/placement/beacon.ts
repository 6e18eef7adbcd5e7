import type { LineAddress } from '../alignment/line-address.ts';
import type { Side } from './rules.ts';

declare const brand: unique symbol;
export type BeaconId = string & { readonly [brand]: 'BeaconId' };

/** What a beacon keeps when a newer extract is adopted: its chainage along the link, or its place on the ground. */
export const ANCHORS = ['chainage', 'position'] as const;
export type Anchor = (typeof ANCHORS)[number];

/** Why a beacon stands where it stands. */
export type BeaconRole = 'portal' | 'spacing' | 'decision' | 'branch' | 'manual';

/** Where a beacon shall stand. Longitude and latitude are derived (place-on-wall.ts), never stored. */
export type Beacon = {
  readonly id: BeaconId;
  readonly at: LineAddress;
  readonly anchor: Anchor;
  readonly role: BeaconRole;
  readonly side: Side;
  /**
   * From the drawn line, which is the centreline unless the data say otherwise (`centreLanes`); positive to the right
   * of the direction of chainage.
   */
  readonly offsetM: number;
  readonly heightM: number;
  /** A person put it here: it stays, and the rest is laid around it. */
  readonly locked: boolean;
};

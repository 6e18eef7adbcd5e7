import type { LineAddress } from '../alignment/line-address.ts';

declare const brand: unique symbol;
export type BeaconId = string & { readonly [brand]: 'BeaconId' };

/** What a beacon keeps when a newer extract is adopted: its chainage along the link, or its place on the ground. */
export const ANCHORS = ['chainage', 'position'] as const;
export type Anchor = (typeof ANCHORS)[number];

/** The wall that carries a beacon, seen in the direction of chainage. */
export const WALLS = ['left', 'right'] as const;
export type Wall = (typeof WALLS)[number];

/** The wall opposite, which is what a wall is called where its link runs the other way. */
export function otherWall(wall: Wall): Wall {
  return wall === 'left' ? 'right' : 'left';
}

/** Why a beacon stands where it stands. */
export type BeaconRole = 'portal' | 'spacing' | 'decision' | 'branch' | 'manual';

/** Where a beacon shall stand. Longitude and latitude are derived (place-on-wall.ts), never stored. */
export type Beacon = {
  readonly id: BeaconId;
  readonly at: LineAddress;
  readonly anchor: Anchor;
  readonly role: BeaconRole;
  readonly side: Wall;
  /**
   * From the drawn line, which is the centreline unless the data say otherwise (`centreLanes`); positive to the right
   * of the direction of chainage.
   */
  readonly offsetM: number;
  readonly heightM: number;
  /** A person put it here: it stays, and the rest is laid around it. */
  readonly locked: boolean;
  /** How far along the bores it is heard, where that was set or measured for this beacon alone. */
  readonly radiusM?: number;
};

/** A beacon that a person put somewhere; the rest is laid around it. */
export type Pin = {
  readonly id: BeaconId;
  readonly at: LineAddress;
  readonly anchor: Anchor;
  /** Absent: the wall that the rules name. */
  readonly wall?: Wall;
  readonly radiusM?: number;
};

import type { LineAddress } from '../alignment/line-address.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { ComplexId } from '../network/network.ts';
import type { Wall } from '../placement/beacon.ts';
import type { RowNote } from './row-note.ts';

/** One beacon of an inventory. */
export type ExistingBeacon = {
  /** The line of a table, or the number of a GeoJSON feature, counted from 1. */
  readonly line: number;
  readonly at: LonLat;
  readonly deviceId?: string;
  /** In the inventory's own word. */
  readonly state?: string;
  /** ISO 8601 date. */
  readonly installDate?: string;
};

/** An inventory as it was read, kept so that it can be matched anew. */
export type ExistingFile = {
  readonly name: string;
  readonly items: readonly ExistingBeacon[];
  readonly notes: readonly RowNote[];
};

/** Where a beacon of the inventory stands in the network. */
export type ExistingMatch = {
  readonly item: ExistingBeacon;
  readonly complexId: ComplexId;
  readonly at: LineAddress;
  /** From the bore's line. */
  readonly distanceM: number;
  readonly side: Wall;
};

/** The matched beacons by the complex's id, each list in the order of the file. Complexes without any are left out. */
export type Existing = {
  readonly byComplex: Readonly<Record<string, readonly ExistingMatch[]>>;
  readonly itemCount: number;
  readonly matchedCount: number;
};

/** States in which a beacon hangs no more, and in which it gives no fix. */
const GONE = new Set(['removed', 'missing']);
const SILENT = new Set([...GONE, 'dead']);

/** Whether a beacon still hangs on the wall, as far as the inventory tells. */
export function isThere({ state = '' }: ExistingBeacon): boolean {
  return !GONE.has(state.trim().toLowerCase());
}

/** Whether a beacon gives a fix, as far as the inventory tells. */
export function isWorking({ state = '' }: ExistingBeacon): boolean {
  return !SILENT.has(state.trim().toLowerCase());
}

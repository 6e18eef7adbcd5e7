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
  /** Whether it is this bore: another one of the same tunnel may be as near. */
  readonly isBoreSure: boolean;
};

/** The matched beacons by the complex's id, each list in the order of the file. Complexes without any are left out. */
export type Existing = {
  readonly byComplex: Readonly<Record<string, readonly ExistingMatch[]>>;
  readonly itemCount: number;
  readonly matchedCount: number;
};

/** What inventories say of beacons that give a fix; nothing said is taken for it. */
const WORKING = new Set(
  '|heard|weak|low battery|not inspected|ok|good|working|active|installed|mounted|in service'.split('|'),
);
/** Of those that hang there and give none. */
const SILENT = new Set('silent|dead|faulty|broken|defective|failed|out of order|out of service'.split('|'));
/** Of those that do not hang there, any more or yet. */
const GONE = new Set(
  'removed|missing|stolen|decommissioned|dismantled|planned|ordered|spare|in stock'.split('|'),
);

/** Whether a word for a beacon's state is understood. */
export function isKnownState(state: string): boolean {
  const word = toWord(state);
  return WORKING.has(word) || SILENT.has(word) || GONE.has(word);
}

/** Whether a beacon hangs on the wall, as far as the inventory tells. */
export function isThere({ state = '' }: ExistingBeacon): boolean {
  return !GONE.has(toWord(state));
}

/** Whether a beacon gives a fix, as far as the inventory tells; a state that is not understood tells that it does not. */
export function isWorking({ state = '' }: ExistingBeacon): boolean {
  return WORKING.has(toWord(state));
}

function toWord(state: string): string {
  return state
    .trim()
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ');
}

import type { LineAddress } from '../../alignment/line-address.ts';
import type { Pin, Wall } from '../beacon.ts';

/** A place where a beacon may stand. */
export type Candidate = LineAddress & {
  /** The node where links meet that it stands at: it is met on all of them. */
  readonly node?: number;
  /** Where it may be mounted there, the wall that the rules name first. */
  readonly walls: readonly Wall[];
  /** How far along the bores a beacon there is heard, metres. */
  readonly radiusM: number;
  /** A person put a beacon here. */
  readonly pin?: Pin;
  /** So near past a fork that it is heard far into a sister branch: only where some row cannot be kept without. */
  readonly isShy?: boolean;
};

/** What a row comes from. */
export type RowKind = 'gap' | 'coverage' | 'decision' | 'branch';

/** At least `need` of the candidates `of` (numbers, ascending) get a beacon. */
export type Row = {
  readonly kind: RowKind;
  readonly at: LineAddress;
  readonly need: number;
  readonly of: readonly number[];
};

/** A place where fewer beacons can stand, or be heard, than a rule needs. */
export type CoverageGap = LineAddress & {
  readonly kind: RowKind;
  readonly need: number;
  readonly found: number;
};

/** Which candidates get a beacon, so that every row is kept by the fewest. All of them together keep every row. */
export type Question = {
  /** Differs where anything does that the answer depends on. */
  readonly key: string;
  readonly candidates: readonly Candidate[];
  /** Beacons at each candidate that is not a pin: 2 where the rules want both walls. */
  readonly copies: 1 | 2;
  /** Candidates that have a beacon anyhow: pins and the portals' own; ascending. */
  readonly fixed: readonly number[];
  /** Those of `fixed` that are a portal's own, with its node. */
  readonly portals: readonly { readonly candidate: number; readonly node: number }[];
  /** What `fixed` leaves to be kept; no row follows from another. */
  readonly rows: readonly Row[];
  readonly gaps: readonly CoverageGap[];
  /** A choice that keeps every row, by another method: ascending; absent where that one breaks a row. */
  readonly known?: readonly number[];
  /** By root: metres to each candidate along the bores in any direction, roots being ends of the network. */
  readonly depths: readonly Float64Array[];
};

import type { LineAddress } from '../alignment/line-address.ts';
import type { Wall } from './beacon.ts';

/** The most places that a solution may have: far more than any tunnel holds. */
export const MAX_PLACES = 20_000;

/** The beacons that a solver found for the method `fewest`, and what it proved about every other layout. */
export type Solution = {
  /** The question that was answered; for any other network, rules, pins or keep-outs the solution is void. */
  readonly key: string;
  readonly places: readonly (LineAddress & { readonly wall: Wall })[];
  /** No layout that keeps every rule has fewer beacons; equal to the count of `places` where that is proven. */
  readonly bound: number;
};

import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexId } from '../network/network.ts';
import type { Anchor, BeaconId, Pin, Wall } from '../placement/beacon.ts';
import type { KeepOut } from '../placement/keep-out.ts';
import type { RuleName, Rules } from '../placement/rules.ts';
import type { Solution } from '../placement/solution.ts';

/**
 * An edit, with its id already chosen by whoever makes it, so that a retry is harmless. `setRule` with a null
 * value falls back to the survey's rule. `slideBeacon` without a wall leaves the wall to the rules. `setRadius` locks
 * the beacon at `at`, since the radius is one of that place; null takes the radius away. `acceptSolution` accepts what a
 * solver found, or with null goes back to the quick layout.
 */
export type Command =
  | {
      readonly kind: 'setRule';
      readonly commandId: string;
      readonly rule: RuleName;
      readonly value: number | string | null;
    }
  | {
      readonly kind: 'slideBeacon';
      readonly commandId: string;
      readonly beaconId: BeaconId;
      readonly to: LineAddress;
      readonly anchor: Anchor;
      readonly wall?: Wall;
    }
  | {
      readonly kind: 'setAnchor';
      readonly commandId: string;
      readonly beaconId: BeaconId;
      readonly anchor: Anchor;
    }
  | {
      readonly kind: 'setRadius';
      readonly commandId: string;
      readonly beaconId: BeaconId;
      readonly at: LineAddress;
      readonly wall: Wall;
      readonly radiusM: number | null;
    }
  | { readonly kind: 'releaseBeacon'; readonly commandId: string; readonly beaconId: BeaconId }
  | { readonly kind: 'addKeepOut'; readonly commandId: string; readonly keepOut: KeepOut }
  | { readonly kind: 'removeKeepOut'; readonly commandId: string; readonly keepOutId: string }
  | { readonly kind: 'acceptSolution'; readonly commandId: string; readonly solution: Solution | null }
  | { readonly kind: 'revert'; readonly commandId: string; readonly revertedId: string };

/**
 * What the server writes into the log where the tunnel under a scheme became another one (a newer extract was
 * adopted, bores were joined or split), or the survey went back to an earlier revision: the whole content. Nothing
 * before it can be taken back alone.
 */
export type Carry = {
  readonly kind: 'carry';
  readonly commandId: string;
  readonly rules: SchemeRules;
  readonly pinned: readonly Pin[];
  readonly keepOuts: readonly KeepOut[];
  /** Only where the survey went back: on another tunnel it would answer another question. */
  readonly solution?: Solution;
};

/** One line of a scheme's log: what a person sent, or what was carried over. */
export type LogEntry = Command | Carry;

/** The rules that a scheme has of its own. */
export type SchemeRules = Partial<Rules>;

/**
 * One saved design for one complex: what people changed. `revision` counts the commands in `log`; The rest
 * follows from the log (apply-command.ts) and is kept for reading.
 */
export type Scheme = {
  readonly complexId: ComplexId;
  readonly revision: number;
  readonly rules: SchemeRules;
  readonly pinned: readonly Pin[];
  readonly keepOuts: readonly KeepOut[];
  readonly solution?: Solution;
  readonly log: readonly LogEntry[];
};

/** The scheme of a complex that nobody has touched. */
export function makeScheme(complexId: ComplexId): Scheme {
  return { complexId, revision: 0, rules: {}, pinned: [], keepOuts: [], log: [] };
}

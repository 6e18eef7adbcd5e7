import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexId } from '../network/network.ts';
import type { Anchor, BeaconId } from '../placement/beacon.ts';
import type { RuleName, Side } from '../placement/rules.ts';

/**
 * An edit, with its id already chosen by whoever makes it, so that a retry is harmless. `setRule` with a null
 * value falls back to the survey's rule.
 */
export type Command =
  | {
      readonly kind: 'setRule';
      readonly commandId: string;
      readonly rule: RuleName;
      readonly value: number | null;
    }
  | { readonly kind: 'setSide'; readonly commandId: string; readonly side: Side | null }
  | {
      readonly kind: 'slideBeacon';
      readonly commandId: string;
      readonly beaconId: BeaconId;
      readonly to: LineAddress;
      readonly anchor: Anchor;
    }
  | {
      readonly kind: 'setAnchor';
      readonly commandId: string;
      readonly beaconId: BeaconId;
      readonly anchor: Anchor;
    }
  | { readonly kind: 'releaseBeacon'; readonly commandId: string; readonly beaconId: BeaconId }
  | { readonly kind: 'revert'; readonly commandId: string; readonly revertedId: string };

/** A beacon that a person moved. */
export type PinnedBeacon = { readonly id: BeaconId; readonly at: LineAddress; readonly anchor: Anchor };

/**
 * What the server writes into the log where the tunnel under a scheme became another one (a newer extract was
 * adopted, bores were joined or split): the whole content, carried over. Nothing before it can be taken back alone.
 */
export type Carry = {
  readonly kind: 'carry';
  readonly commandId: string;
  readonly rules: SchemeRules;
  readonly pinned: readonly PinnedBeacon[];
};

/** One line of a scheme's log: what a person sent, or what was carried over. */
export type LogEntry = Command | Carry;

/** The rules that a scheme has of its own. */
export type SchemeRules = { readonly [K in RuleName]?: number } & { readonly side?: Side };

/**
 * One saved design for one complex: what people changed. `revision` counts the commands in `log`; `rules` and
 * `pinned` follow from the log (apply-command.ts) and are kept for reading.
 */
export type Scheme = {
  readonly complexId: ComplexId;
  readonly revision: number;
  readonly rules: SchemeRules;
  readonly pinned: readonly PinnedBeacon[];
  readonly log: readonly LogEntry[];
};

/** The scheme of a complex that nobody has touched. */
export function makeScheme(complexId: ComplexId): Scheme {
  return { complexId, revision: 0, rules: {}, pinned: [], log: [] };
}

import type { LineAddress } from '../alignment/line-address.ts';
import type { ComplexId } from '../network/network.ts';
import type { BeaconId } from '../placement/beacon.ts';
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
    }
  | { readonly kind: 'releaseBeacon'; readonly commandId: string; readonly beaconId: BeaconId }
  | { readonly kind: 'revert'; readonly commandId: string; readonly revertedId: string };

/** A beacon that a person moved. */
export type PinnedBeacon = { readonly id: BeaconId; readonly at: LineAddress };

/**
 * One saved design for one complex: what people changed. `revision` counts the commands in `log`; `rules` and
 * `pinned` follow from the log (apply-command.ts) and are kept for reading.
 */
export type Scheme = {
  readonly complexId: ComplexId;
  readonly revision: number;
  readonly rules: { readonly [K in RuleName]?: number } & { readonly side?: Side };
  readonly pinned: readonly PinnedBeacon[];
  readonly log: readonly Command[];
};

/** The scheme of a complex that nobody has touched. */
export function makeScheme(complexId: ComplexId): Scheme {
  return { complexId, revision: 0, rules: {}, pinned: [], log: [] };
}

import type { ComplexNetwork } from '../../shared/network/network.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import type { Rules } from '../../shared/placement/rules.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import type { Command, LogEntry, Scheme } from '../../shared/scheme/scheme.ts';
import type { ShownDesign } from '../worker/shown-design.ts';
import type { ApiProblem } from './api.ts';

/** What the person should be told about saving; stays until it is answered or replaced. */
export type DesignNotice =
  | { readonly kind: 'merged'; readonly missed: readonly LogEntry[] }
  | { readonly kind: 'conflict'; readonly missed: readonly LogEntry[]; readonly mine: readonly Command[] }
  | { readonly kind: 'refused'; readonly detail: string };

/** One tunnel that is open for design. */
export type OpenDesign = {
  readonly network: ComplexNetwork;
  readonly surveyRules: Rules;
  /** As the server has it. */
  readonly saved: Scheme;
  /** Edits on top of `saved` that the server does not have yet. */
  readonly pending: readonly Command[];
  /** `saved` with `pending`. */
  readonly scheme: Scheme;
  /** An edit in the making (a slider or a beacon being dragged): shown, not part of the history. */
  readonly preview: Command | undefined;
  /** The newest design that was computed, of `scheme` with `preview`. */
  readonly shown: ShownDesign | undefined;
  /** Why the newest design could not be computed; `shown` is then an older one. */
  readonly fault: string | undefined;
  readonly saving: 'saved' | 'saving' | 'unsaved';
  readonly notice: DesignNotice | undefined;
  readonly beaconId: BeaconId | undefined;
};

export type DesignState =
  | { readonly status: 'loading' }
  | { readonly status: 'failed'; readonly problem: ApiProblem }
  | { readonly status: 'ready'; readonly open: OpenDesign };

/** The scheme as it is shown: with the edit in the making, where the core takes it. */
export function toShownScheme(open: OpenDesign): Scheme {
  if (open.preview === undefined) return open.scheme;
  const applied = applyCommand(open.scheme, open.preview, makeCommandContext(open.network, open.surveyRules));
  return applied.ok ? applied.value : open.scheme;
}

import type { ComplexNetwork } from '../../shared/network/network.ts';
import { refusal } from '../../shared/outcome/refusal.ts';
import { done, type Result, refused } from '../../shared/outcome/result.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import { type Command, makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import type { Store, SurveyRecord } from '../store/store.ts';

export type Edit = { readonly baseRevision: number; readonly commands: readonly Command[] };

/** How an edit ended; `missed` holds edits that the sender had not seen. */
export type Edited =
  | { readonly kind: 'saved'; readonly scheme: Scheme; readonly isRetry: boolean }
  | { readonly kind: 'stale'; readonly scheme: Scheme; readonly missed: readonly Command[] };

/**
 * Applies a batch of edits to the scheme of one complex: all of them or none, only on top of `baseRevision`
 * (compare and swap). A batch whose commands are all in the log already is a retry and changes nothing.
 */
export async function editScheme(
  store: Store,
  survey: SurveyRecord,
  network: ComplexNetwork,
  edit: Edit,
): Promise<Result<Edited>> {
  const complexId = network.complex.id;
  const before = (await store.findScheme(survey.id, complexId)) ?? makeScheme(complexId);
  const known = new Set(before.log.map((command) => command.commandId));
  if (edit.commands.every((command) => known.has(command.commandId)))
    return done({ kind: 'saved', scheme: before, isRetry: true });
  const stale = (scheme: Scheme) =>
    done({ kind: 'stale' as const, scheme, missed: scheme.log.slice(edit.baseRevision) });
  if (before.revision !== edit.baseRevision) return stale(before);
  let scheme = before;
  const context = makeCommandContext(network, survey.rules);
  for (const command of edit.commands) {
    const applied = applyCommand(scheme, command, context);
    if (!applied.ok) return applied;
    scheme = applied.value;
  }
  if (await store.saveScheme(survey.id, before.revision, scheme)) {
    return done({ kind: 'saved', scheme, isRetry: false });
  }
  const now = await store.findScheme(survey.id, complexId);
  return now === undefined ? refused(refusal('survey-unknown', { id: survey.id })) : stale(now);
}

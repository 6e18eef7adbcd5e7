import type { ComplexNetwork } from '../../shared/network/network.ts';
import { done, type Result } from '../../shared/outcome/result.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import { type Command, type LogEntry, makeScheme, type Scheme } from '../../shared/scheme/scheme.ts';
import type { Store, SurveyRecord } from '../store/store.ts';

export type Edit = { readonly baseRevision: number; readonly commands: readonly Command[] };

/** How an edit ended; `missed` holds what the sender had not seen. */
export type Edited =
  | { readonly kind: 'saved'; readonly scheme: Scheme }
  | { readonly kind: 'stale'; readonly scheme: Scheme; readonly missed: readonly LogEntry[] };

/**
 * Applies a batch of edits to the scheme of one complex: all of them or none, only on top of `baseRevision`
 * (compare and swap). A batch whose commands are all in the log already is a retry and changes nothing.
 *
 * @param find gives the survey and the complex as they stand; asked again where the survey was changed meanwhile.
 */
export async function editScheme(
  store: Store,
  find: () => Promise<Result<{ survey: SurveyRecord; network: ComplexNetwork }>>,
  edit: Edit,
): Promise<Result<Edited>> {
  for (;;) {
    const found = await find();
    if (!found.ok) return found;
    const { survey, network } = found.value;
    const complexId = network.complex.id;
    const before = (await store.findScheme(survey.id, complexId)) ?? makeScheme(complexId);
    const known = new Set(before.log.map((command) => command.commandId));
    if (edit.commands.every((command) => known.has(command.commandId))) {
      return done({ kind: 'saved', scheme: before });
    }
    if (before.revision !== edit.baseRevision) {
      return done({ kind: 'stale', scheme: before, missed: before.log.slice(edit.baseRevision) });
    }
    const after = applyAll(before, edit.commands, network, survey);
    if (!after.ok) return after;
    const base = { survey: survey.revision, scheme: before.revision };
    if (await store.saveScheme(survey.id, base, after.value)) {
      return done({ kind: 'saved', scheme: after.value });
    }
  }
}

function applyAll(
  before: Scheme,
  commands: readonly Command[],
  network: ComplexNetwork,
  survey: SurveyRecord,
): Result<Scheme> {
  const context = makeCommandContext(network, survey.rules);
  let scheme = before;
  for (const command of commands) {
    const applied = applyCommand(scheme, command, context);
    if (!applied.ok) return applied;
    scheme = applied.value;
  }
  return done(scheme);
}

import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import type { Command, Scheme } from '../../shared/scheme/scheme.ts';
import { words } from '../words.ts';
import type { ApiProblem } from './api.ts';
import type { DesignSessionDeps } from './design-session.ts';
import type { OpenDesign } from './design-state.ts';
import { rebase } from './rebase.ts';

type OutboxDeps = DesignSessionDeps & {
  readonly find: () => OpenDesign | undefined;
  readonly change: (part: Partial<OpenDesign>) => void;
  readonly recompute: () => Promise<void>;
};

/** First wait before a failed save is tried again, doubled up to the longest. */
const FIRST_RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 30_000;

/**
 * Sends pending edits, one request at a time. Nothing is dropped in silence: an unreachable server leaves them
 * pending and is asked again, an overtaken one is asked about, and a refused one is told.
 */
export function createOutbox({ find, change, recompute, ...deps }: OutboxDeps) {
  let isSending = false;
  /** After a refused batch: edits go singly, so that only the refused one is dropped. */
  let isSingly = false;
  let retryMs = FIRST_RETRY_MS;
  let timer: ReturnType<typeof setTimeout> | undefined;

  const send = async (): Promise<void> => {
    clearTimeout(timer);
    const open = find();
    if (isSending || open === undefined || open.pending.length === 0) return;
    isSending = true;
    change({ saving: 'saving' });
    const batch = isSingly ? open.pending.slice(0, 1) : open.pending;
    const answer = await deps.api.sendCommands(deps.surveyId, deps.complexId, open.saved.revision, batch);
    isSending = false;
    if (answer.ok) {
      retryMs = FIRST_RETRY_MS;
      keep(answer.value.scheme);
      deps.onSaved();
    } else if (answer.problem.code === 'revision-stale') await takeOver(answer.problem);
    else if (answer.problem.status >= 400 && answer.problem.status < 500) await refuse(batch, answer.problem);
    else {
      change({ saving: 'unsaved' });
      timer = setTimeout(() => void send(), retryMs);
      retryMs = Math.min(LONGEST_RETRY_MS, retryMs * 2);
      return;
    }
    if ((find()?.pending.length ?? 0) > 0) return send();
    isSingly = false;
    change({ saving: 'saved' });
  };

  /** The server has these edits now; what was made meanwhile stays pending on top. */
  const keep = (saved: Scheme) => {
    const open = find();
    if (open === undefined) return;
    const { scheme, kept } = rebase(open.saved, saved, open.pending, contextOf(open));
    change({ saved, scheme, pending: kept });
  };

  /** Somebody else saved first: mine goes on top of theirs where it can, and is asked about where it cannot. */
  const takeOver = async (problem: ApiProblem) => {
    const open = find();
    const now = await readScheme(problem);
    if (open === undefined || now === undefined) return;
    const { scheme, kept, conflicts } = rebase(open.saved, now, open.pending, contextOf(open));
    const known = new Set(open.pending.map((command) => command.commandId));
    const missed = now.log.slice(open.saved.revision).filter((command) => !known.has(command.commandId));
    const told =
      conflicts.length > 0
        ? { kind: 'conflict' as const, missed, mine: conflicts }
        : missed.length > 0
          ? { kind: 'merged' as const, missed }
          : open.notice;
    change({ saved: now, scheme, pending: kept, preview: undefined, notice: told });
    await recompute();
  };

  const readScheme = async (problem: ApiProblem): Promise<Scheme | undefined> => {
    if (problem.context.scheme !== undefined) return problem.context.scheme as Scheme;
    const answer = await deps.api.tunnel(deps.surveyId, deps.complexId);
    return answer.ok ? answer.value.scheme : undefined;
  };

  /** One refused edit spoils its batch: sent singly, the one that is refused again is dropped and told. */
  const refuse = async (batch: readonly Command[], problem: ApiProblem) => {
    const open = find();
    const [first] = batch;
    if (open === undefined || first === undefined) return;
    if (batch.length > 1) {
      isSingly = true;
      return;
    }
    const rest = open.pending.filter((command) => command.commandId !== first.commandId);
    const { scheme, kept } = rebase(open.saved, open.saved, rest, contextOf(open));
    change({ scheme, pending: kept, notice: { kind: 'refused', detail: problem.detail } });
    await recompute();
  };

  return {
    send,
    async resolve(choice: 'mine' | 'theirs') {
      const open = find();
      if (open?.notice?.kind !== 'conflict') return;
      const mine = choice === 'mine' ? open.notice.mine : [];
      const edits = [...open.pending, ...mine];
      const { scheme, kept, conflicts } = rebase(open.saved, open.saved, edits, contextOf(open));
      const notice =
        conflicts.length === 0 ? undefined : { kind: 'refused' as const, detail: words.saving.cannotRepeat };
      change({ scheme, pending: kept, notice });
      await Promise.all([recompute(), send()]);
    },
  };
}

function contextOf(open: OpenDesign) {
  return makeCommandContext(open.network, open.surveyRules);
}

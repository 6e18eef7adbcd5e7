import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import type { CommandContext } from '../../shared/scheme/apply-command.ts';
import type { Command, LogEntry, Scheme } from '../../shared/scheme/scheme.ts';
import { words } from '../words.ts';
import type { ApiProblem, TunnelData } from './api.ts';
import type { DesignSessionDeps } from './design-session.ts';
import type { DesignNotice, OpenDesign } from './design-state.ts';
import { rebase } from './rebase.ts';

type OutboxDeps = DesignSessionDeps & {
  readonly find: () => OpenDesign | undefined;
  readonly change: (part: Partial<OpenDesign>) => void;
  readonly recompute: () => Promise<void>;
  /** Shows another network and other survey rules under the edits. */
  readonly replaceTunnel: (data: TunnelData) => void;
};

/** First wait before a failed save is tried again, doubled up to the longest. */
const FIRST_RETRY_MS = 2_000;
const LONGEST_RETRY_MS = 30_000;

/**
 * Sends pending edits, one request at a time. Nothing is dropped in silence: an unreachable server leaves them
 * pending and is asked again, an overtaken one is asked about, and a refused one is told.
 */
export function createOutbox({ find, change, recompute, replaceTunnel, ...deps }: OutboxDeps) {
  let sending: Promise<void> | undefined;
  /** After a refused batch: edits go singly, so that only the refused one is dropped. */
  let isSingly = false;
  let retryMs = FIRST_RETRY_MS;
  let timer: ReturnType<typeof setTimeout> | undefined;

  /** Ends when everything is saved or when the server cannot be reached; then it is asked again by itself. */
  const send = async (): Promise<void> => {
    clearTimeout(timer);
    if (sending === undefined && (find()?.pending.length ?? 0) > 0) sending = sendAll();
    await sending;
  };

  const sendAll = async () => {
    try {
      while ((find()?.pending.length ?? 0) > 0) {
        change({ saving: 'saving' });
        if (await sendBatch()) continue;
        change({ saving: 'unsaved' });
        timer = setTimeout(() => void send(), retryMs);
        retryMs = Math.min(LONGEST_RETRY_MS, retryMs * 2);
        return;
      }
      isSingly = false;
      change({ saving: 'saved' });
    } finally {
      sending = undefined;
    }
  };

  /** False where the server gave no answer that settles something. */
  const sendBatch = async (): Promise<boolean> => {
    const open = find();
    if (open === undefined) return true;
    const batch = isSingly ? open.pending.slice(0, 1) : open.pending;
    const answer = await deps.api.sendCommands(deps.surveyId, deps.complexId, open.saved.revision, batch);
    if (answer.ok) {
      retryMs = FIRST_RETRY_MS;
      keep(answer.value.scheme);
      deps.onSaved();
      return true;
    }
    const { problem } = answer;
    if (problem.code === 'revision-stale') return takeOver(problem);
    // Whoever has to sign in again does so with these edits waiting.
    if (problem.code === 'sign-in-needed') return false;
    if (problem.status < 400 || problem.status >= 500) return false;
    await refuse(batch, problem);
    return true;
  };

  /** The server has these edits now; what was made meanwhile stays pending on top. */
  const keep = (saved: Scheme) => {
    const open = find();
    if (open === undefined) return;
    // The tunnel may have been read anew while these edits were on their way.
    const newest = saved.revision < open.saved.revision ? open.saved : saved;
    const { scheme, kept } = rebase(open.saved, newest, open.pending, contextOf(open));
    change({ saved: newest, scheme, pending: kept });
  };

  /** Somebody else saved first: mine goes on top of theirs where it can, and is asked about where it cannot. */
  const takeOver = async (problem: ApiProblem): Promise<boolean> => {
    const now = problem.context.scheme as Scheme | undefined;
    const missed = (problem.context.missed ?? []) as readonly LogEntry[];
    // Carried over: bores were joined or split, or a newer extract was adopted; the network is another one.
    if (now === undefined || missed.some((entry) => entry.kind === 'carry')) return readAnew();
    await rebaseOn(now);
    return true;
  };

  const readAnew = async (): Promise<boolean> => {
    const answer = await deps.api.tunnel(deps.surveyId, deps.complexId);
    if (answer.ok) await renew(answer.value);
    return answer.ok;
  };

  /** The tunnel as it is now, with what is pending on top. */
  const renew = async (data: TunnelData) => {
    const open = find();
    if (open === undefined) return;
    const contextBefore = contextOf(open);
    replaceTunnel(data);
    await rebaseOn(data.scheme, contextBefore);
  };

  const rebaseOn = async (now: Scheme, contextBefore?: CommandContext) => {
    const open = find();
    if (open === undefined) return;
    const { scheme, kept, conflicts } = rebase(open.saved, now, open.pending, contextOf(open), contextBefore);
    const known = new Set(open.pending.map((command) => command.commandId));
    const missed = now.log.slice(open.saved.revision).filter((entry) => !known.has(entry.commandId));
    const told: DesignNotice | undefined =
      conflicts.length > 0
        ? { kind: 'conflict', missed, mine: conflicts }
        : missed.length > 0 && open.pending.length > 0
          ? { kind: 'merged', missed }
          : open.notice;
    change({ saved: now, scheme, pending: kept, preview: undefined, notice: told });
    await recompute();
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
    // It was good here: the tunnel on the server is another one.
    await readAnew();
    await recompute();
  };

  return {
    send,
    renew,
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

import type { LineAddress } from '../../shared/alignment/line-address.ts';
import { describeRefusal } from '../../shared/outcome/words.ts';
import { makeCommandContext } from '../../shared/pipeline/make-command-context.ts';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import { applyCommand } from '../../shared/scheme/apply-command.ts';
import type { Command } from '../../shared/scheme/scheme.ts';
import { accountWords } from '../account-words.ts';
import type { Designer, OpenDesigner } from '../worker/create-designer.ts';
import type { Api, TunnelData } from './api.ts';
import { type DesignState, type OpenDesign, toShownScheme } from './design-state.ts';
import { findRedo, findUndo } from './history.ts';
import { makeStore } from './make-store.ts';
import { createOutbox } from './outbox.ts';
import type { OwnCommands } from './own-commands.ts';
import { toSlide } from './to-slide.ts';
import type { WithoutId } from './without-id.ts';

/** A command before it has its id. */
export type Edit = WithoutId<Command>;

export type DesignSessionDeps = {
  readonly api: Pick<Api, 'tunnel' | 'sendCommands'>;
  readonly openDesigner: OpenDesigner;
  readonly makeId: () => string;
  readonly own: OwnCommands;
  /** Where not, every edit is refused here already. */
  readonly mayEdit: () => boolean;
  readonly surveyId: string;
  readonly complexId: string;
  /** Called after every save: the server's layers have changed. */
  readonly onSaved: () => void;
};

export type DesignSession = ReturnType<typeof createDesignSession>;

/** How long a row of single steps (a nudged beacon) waits for the next one before it becomes one edit. */
const SETTLE_MS = 600;

/** One tunnel open for design: its scheme, the edit in the making, undo and saving. */
export function createDesignSession(deps: DesignSessionDeps) {
  const store = makeStore<{ value: DesignState }>({ value: { status: 'loading' } });
  let designer: Designer | undefined;
  let settling: ReturnType<typeof setTimeout> | undefined;

  const find = (): OpenDesign | undefined => {
    const { value } = store.get();
    return value.status === 'ready' ? value.open : undefined;
  };
  const change = (part: Partial<OpenDesign>) => {
    const open = find();
    if (open !== undefined) store.set({ value: { status: 'ready', open: { ...open, ...part } } });
  };
  const recompute = async () => {
    const open = find();
    if (open === undefined) return;
    try {
      const shown = await designer?.design(toShownScheme(open));
      if (shown !== undefined) change({ shown, fault: undefined });
    } catch (error) {
      change({ fault: error instanceof Error ? error.message : String(error) });
    }
  };
  const replaceTunnel = ({ network, rules }: TunnelData) => {
    designer?.close();
    designer = deps.openDesigner(network, rules);
    change({ network, surveyRules: rules, shown: undefined, fault: undefined });
  };
  const outbox = createOutbox({ ...deps, find, change, recompute, replaceTunnel });

  const load = async () => {
    store.set({ value: { status: 'loading' } });
    const answer = await deps.api.tunnel(deps.surveyId, deps.complexId);
    if (!answer.ok) return store.set({ value: { status: 'failed', problem: answer.problem } });
    start(answer.value);
    await recompute();
  };
  const start = ({ network, rules, scheme }: TunnelData) => {
    designer?.close();
    designer = deps.openDesigner(network, rules);
    const open: OpenDesign = {
      network,
      surveyRules: rules,
      saved: scheme,
      pending: [],
      scheme,
      preview: undefined,
      shown: undefined,
      fault: undefined,
      saving: 'saved',
      notice: undefined,
      beaconId: undefined,
    };
    store.set({ value: { status: 'ready', open } });
  };

  /** Tells whoever only reads that nothing is changed by them. */
  const isRefused = (): boolean => {
    if (deps.mayEdit()) return false;
    change({ preview: undefined, notice: { kind: 'refused', detail: accountWords.readingOnly } });
    void recompute();
    return true;
  };
  /** Applies an edit here at once and sends it. A refusal is told and changes nothing. */
  const commit = (edit: Edit) => {
    settle();
    const open = find();
    if (open === undefined || isRefused()) return;
    const command = { ...edit, commandId: deps.makeId() } as Command;
    deps.own.add(command.commandId);
    const applied = applyCommand(open.scheme, command, makeCommandContext(open.network, open.surveyRules));
    if (!applied.ok) {
      change({ preview: undefined, notice: { kind: 'refused', detail: describeRefusal(applied.refusal) } });
    } else {
      change({ scheme: applied.value, pending: [...open.pending, command], preview: undefined });
      void outbox.send();
    }
    void recompute();
  };
  const preview = (edit: Edit | undefined) => {
    if (edit !== undefined && !deps.mayEdit()) return;
    change({ preview: edit === undefined ? undefined : ({ ...edit, commandId: 'preview-0' } as Command) });
    void recompute();
  };
  /** Makes a waiting row of single steps an edit now. */
  const settle = () => {
    if (settling === undefined) return;
    clearTimeout(settling);
    settling = undefined;
    const waiting = find()?.preview;
    if (waiting === undefined) return;
    const { commandId: _, ...edit } = waiting;
    commit(edit as Edit);
  };
  const revert = (command: Command | undefined) => {
    if (command !== undefined) commit({ kind: 'revert', revertedId: command.commandId });
  };

  void load();
  return {
    get: () => store.get().value,
    subscribe: store.subscribe,
    /** Reads the tunnel again, as it is now: what is not saved yet goes on top, and is sent. */
    async reload() {
      settle();
      if (find() === undefined) return load();
      const answer = await deps.api.tunnel(deps.surveyId, deps.complexId);
      if (answer.ok) await outbox.renew(answer.value);
      else if (find()?.pending.length === 0)
        store.set({ value: { status: 'failed', problem: answer.problem } });
      void outbox.send();
    },
    /** Saves what waits, as far as the server takes it. */
    async flush() {
      settle();
      await outbox.send();
    },
    commit,
    preview,
    settle,
    /** Drops the edit in the making. */
    cancel() {
      clearTimeout(settling);
      settling = undefined;
      preview(undefined);
    },
    /** Moves a beacon along its link; steps in quick succession become one edit. Kept within the link. */
    nudge(beaconId: BeaconId, byM: number) {
      const at = findPlace(find(), beaconId);
      const link = find()?.network.links.find((candidate) => candidate.id === at?.linkId);
      if (at === undefined || link === undefined) return;
      if (settling !== undefined && previewedId(find()) !== beaconId) settle();
      const chainageM = Math.min(link.lengthM, Math.max(0, at.chainageM + byM));
      preview(toSlide(find(), beaconId, { linkId: link.id, chainageM }, 'chainage'));
      clearTimeout(settling);
      settling = setTimeout(settle, SETTLE_MS);
    },
    undo() {
      settle();
      const open = find();
      if (open !== undefined) revert(findUndo(open.scheme, open.network, deps.own.has));
    },
    redo() {
      settle();
      const open = find();
      if (open !== undefined) revert(findRedo(open.scheme, open.network, deps.own.has));
    },
    selectBeacon(beaconId: BeaconId | undefined) {
      settle();
      change({ beaconId });
    },
    /** The edits that undo and redo would take back now. */
    findSteps(): { undo: Command | undefined; redo: Command | undefined } {
      const open = find();
      if (open === undefined) return { undo: undefined, redo: undefined };
      const { scheme, network } = open;
      return {
        undo: findUndo(scheme, network, deps.own.has),
        redo: findRedo(scheme, network, deps.own.has),
      };
    },
    /** Computes the design again after a fault. */
    recompute,
    retry: outbox.send,
    /** Answers a conflict: my edits on top of theirs, or theirs alone. */
    resolve: outbox.resolve,
    dismiss: () => change({ notice: undefined }),
    knownRevision: (complexId: string) => (complexId === deps.complexId ? find()?.saved.revision : undefined),
    hasUnsaved: () => (find()?.pending.length ?? 0) > 0 || find()?.notice?.kind === 'conflict',
    close() {
      settle();
      designer?.close();
      designer = undefined;
    },
  };
}

function previewedId(open: OpenDesign | undefined): string | undefined {
  return open?.preview?.kind === 'slideBeacon' ? open.preview.beaconId : undefined;
}

/** Where a beacon stands now: as it is being moved, else as designed. */
export function findPlace(open: OpenDesign | undefined, beaconId: string): LineAddress | undefined {
  if (open?.preview?.kind === 'slideBeacon' && open.preview.beaconId === beaconId) return open.preview.to;
  return open?.shown?.design.beacons.find((beacon) => beacon.id === beaconId)?.at;
}

import type { SurveyView } from '../../shared/wire/survey.ts';
import type { Api, ApiProblem, SurveyCommand } from './api.ts';
import { findTaker } from './find-taker.ts';
import { makeStore } from './make-store.ts';
import type { SurveySession } from './survey-session.ts';
import type { WithoutId } from './without-id.ts';

/** A survey command before it has its id. */
export type SurveyEdit = WithoutId<SurveyCommand>;

/** What was done, in words, and the command that an undo takes back; adopting cannot be taken back. */
export type DoneEdit = {
  readonly surveyId: string;
  readonly says: string;
  readonly undoId: string | undefined;
};

export type SurveyEditorState = { readonly isWorking: boolean; readonly done: DoneEdit | undefined };

export type SurveyEditorDeps = {
  readonly api: Pick<Api, 'editSurvey' | 'goBack'>;
  readonly surveys: Pick<SurveySession, 'find' | 'refresh' | 'accept' | 'rows'>;
  readonly designs: { flush(): Promise<unknown>; reloadCurrent(): Promise<void> | undefined };
  readonly makeId: () => string;
  readonly findOpenTunnel: () => string | undefined;
  /** Shows another tunnel in place of the open one, or the table. */
  readonly showTunnel: (id: string | undefined) => void;
};

export type SurveyEditor = ReturnType<typeof createSurveyEditor>;

/** How often an edit is sent again where somebody else changed the survey meanwhile. */
const TRIES = 3;

/** Edits of the survey itself: which bores are one tunnel, and which extract it rests on. One at a time. */
export function createSurveyEditor({ api, surveys, designs, makeId, ...deps }: SurveyEditorDeps) {
  const store = makeStore<SurveyEditorState>({ isWorking: false, done: undefined });

  /** On top of whatever the survey is now: joining two bores does not depend on what else was changed. */
  const sendOnTop = async (id: string, command: SurveyCommand) => {
    for (let i = 1; ; i += 1) {
      await surveys.refresh();
      const answer = await api.editSurvey(id, surveys.find(id)?.revision ?? 0, command);
      if (answer.ok || answer.problem.code !== 'revision-stale' || i === TRIES) return answer;
    }
  };
  /** The open tunnel may be another one now, or part of another one. */
  const takeOver = async (view: SurveyView) => {
    const before = surveys.rows(view.id).find((row) => row.id === deps.findOpenTunnel());
    await surveys.accept(view);
    const rows = surveys.rows(view.id);
    const tunnelId = deps.findOpenTunnel();
    if (tunnelId === undefined) return;
    if (rows.some((row) => row.id === tunnelId)) await designs.reloadCurrent();
    else deps.showTunnel(before === undefined ? undefined : findTaker(before, rows)?.id);
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    /**
     * Makes an edit and shows what follows; `says` tells afterwards what was done. With `baseRevision` it holds
     * only for the survey as it was then. The server's problem where it was not done, `busy` while another one is.
     */
    async edit(
      surveyId: string,
      edit: SurveyEdit,
      says: string,
      baseRevision?: number,
    ): Promise<ApiProblem | 'busy' | undefined> {
      if (store.get().isWorking) return 'busy';
      store.patch({ isWorking: true });
      try {
        await designs.flush();
        const command = { ...edit, commandId: makeId() } as SurveyCommand;
        const answer =
          baseRevision === undefined
            ? await sendOnTop(surveyId, command)
            : await api.editSurvey(surveyId, baseRevision, command);
        if (!answer.ok) return answer.problem;
        await takeOver(answer.value);
        const isOnce = command.kind === 'adoptExtract' || command.kind === 'revert';
        const notes = answer.value.notes ?? [];
        const told = [says, ...notes.map(({ detail }) => detail)].join(' ');
        store.patch({ done: { surveyId, says: told, undoId: isOnce ? undefined : command.commandId } });
        return undefined;
      } finally {
        store.patch({ isWorking: false });
      }
    },
    /** Makes the survey again what it was at a revision, on top of whatever it is now; `says` tells it afterwards. */
    async goBack(surveyId: string, revision: number, says: string): Promise<ApiProblem | 'busy' | undefined> {
      if (store.get().isWorking) return 'busy';
      store.patch({ isWorking: true });
      try {
        await designs.flush();
        await surveys.refresh();
        const baseRevision = surveys.find(surveyId)?.revision ?? 0;
        const answer = await api.goBack(surveyId, revision, { baseRevision, commandId: makeId() });
        if (!answer.ok) return answer.problem;
        await takeOver(answer.value);
        store.patch({ done: { surveyId, says, undoId: undefined } });
        return undefined;
      } finally {
        store.patch({ isWorking: false });
      }
    },
    dismiss: () => store.patch({ done: undefined }),
  };
}

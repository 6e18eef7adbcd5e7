import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import type { Answer, Api, ApiProblem } from './api.ts';
import { makeStore } from './make-store.ts';
import type { SurveyEditor } from './survey-editor.ts';
import type { Loadable, SurveySession } from './survey-session.ts';

/** A newer extract against the survey, or the survey at an earlier revision against itself. */
export type Shown = RevisionComparison & { readonly extractId?: string };

export type ComparisonState = {
  readonly surveyId: string | undefined;
  readonly loaded: Loadable<Shown> | undefined;
  /** Somebody changed the survey while it was looked at: what is shown is new, and was not accepted. */
  readonly hasChanged: boolean;
  readonly isWorking: boolean;
  /** Why it was not adopted or discarded. */
  readonly problem: ApiProblem | undefined;
};

export type ComparisonDeps = {
  readonly api: Pick<Api, 'comparison' | 'revisionComparison' | 'discardCandidate'>;
  readonly surveys: Pick<SurveySession, 'refresh'>;
  readonly editor: Pick<SurveyEditor, 'edit'>;
  readonly designs: { flush(): Promise<unknown> };
};

export type ComparisonSession = ReturnType<typeof createComparisonSession>;

const EMPTY = { loaded: undefined, hasChanged: false, isWorking: false, problem: undefined };

/**
 * The newer extract that waits for a survey, against the survey as it stands: looked at, adopted, discarded. Or what
 * became of the survey since one of its revisions: looked at.
 */
export function createComparisonSession({ api, surveys, editor, designs }: ComparisonDeps) {
  const store = makeStore<ComparisonState>({ surveyId: undefined, ...EMPTY });
  let asked = 0;

  const load = (surveyId: string, hasChanged = false) =>
    show(surveyId, () => api.comparison(surveyId), hasChanged);
  const show = async (surveyId: string, ask: () => Promise<Answer<Shown>>, hasChanged = false) => {
    asked += 1;
    const question = asked;
    store.set({ surveyId, ...EMPTY, hasChanged, loaded: { status: 'loading' } });
    // What is still being saved would make the comparison an old one at once.
    await designs.flush();
    const answer = await ask();
    if (question !== asked) return;
    store.patch({
      loaded: answer.ok
        ? { status: 'ready', value: answer.value }
        : { status: 'failed', problem: answer.problem },
    });
  };
  const find = () => {
    const { surveyId, loaded, isWorking } = store.get();
    if (surveyId === undefined || isWorking || loaded?.status !== 'ready') return undefined;
    return { surveyId, comparison: loaded.value };
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    load,
    /** Shows what became of a survey since one of its revisions. */
    loadRevision: (surveyId: string, revision: number) =>
      show(surveyId, () => api.revisionComparison(surveyId, revision)),
    /** Forgets it: the panel was left. */
    close() {
      asked += 1;
      store.set({ surveyId: undefined, ...EMPTY });
    },
    /** Accepts it; `says` tells afterwards what was done. True where it was adopted. */
    async adopt(says: string): Promise<boolean> {
      const open = find();
      if (open === undefined) return false;
      store.patch({ isWorking: true, problem: undefined });
      const { extractId, surveyRevision } = open.comparison;
      if (extractId === undefined) return false;
      const edit = { kind: 'adoptExtract', extractId } as const;
      const problem = await editor.edit(open.surveyId, edit, says, surveyRevision);
      store.patch({ isWorking: false });
      if (problem === undefined) return true;
      if (problem === 'busy') return false;
      await surveys.refresh();
      if (problem.code === 'revision-stale') await load(open.surveyId, true);
      else store.patch({ problem });
      return false;
    },
    /** Throws the newer extract away. True where it is gone. */
    async discard(): Promise<boolean> {
      const { surveyId, isWorking } = store.get();
      if (surveyId === undefined || isWorking) return false;
      store.patch({ isWorking: true, problem: undefined });
      const answer = await api.discardCandidate(surveyId);
      await surveys.refresh();
      store.patch({ isWorking: false, problem: answer.ok ? undefined : answer.problem });
      return answer.ok;
    },
  };
}

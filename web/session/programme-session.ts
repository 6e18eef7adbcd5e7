import type { ProgrammeRequest, ProgrammeView } from '../../shared/wire/ranking.ts';
import type { Api, ApiProblem } from './api.ts';
import { makeStore } from './make-store.ts';

export type ProgrammeState = {
  /** The survey that all of this is about. */
  readonly surveyId: string | undefined;
  /** What is being planned; undefined where nothing is. */
  readonly asking: ProgrammeRequest | undefined;
  readonly isCancelled: boolean;
  readonly planned: { readonly request: ProgrammeRequest; readonly answer: ProgrammeView } | undefined;
  readonly problem: ApiProblem | undefined;
};

const NOTHING: ProgrammeState = {
  surveyId: undefined,
  asking: undefined,
  isCancelled: false,
  planned: undefined,
  problem: undefined,
};

export type ProgrammeSession = ReturnType<typeof createProgrammeSession>;

/** One programme at a time; it goes on while other panels are looked at. */
export function createProgrammeSession(api: Pick<Api, 'programme'>) {
  const store = makeStore<ProgrammeState>(NOTHING);
  let stop = new AbortController();

  return {
    get: store.get,
    subscribe: store.subscribe,
    /** Plans anew; what was being planned before is given up. */
    async start(surveyId: string, request: ProgrammeRequest): Promise<void> {
      stop.abort();
      stop = new AbortController();
      const { signal } = stop;
      const before = store.get().surveyId === surveyId ? store.get().planned : undefined;
      store.set({ ...NOTHING, surveyId, asking: request, planned: before });
      const answer = await api.programme(surveyId, request, signal);
      if (signal.aborted) return;
      if (answer.ok) store.patch({ asking: undefined, planned: { request, answer: answer.value } });
      else store.patch({ asking: undefined, problem: answer.problem });
    },
    cancel() {
      stop.abort();
      store.patch({ asking: undefined, isCancelled: true });
    },
  };
}

import type { DrivesView } from '../../shared/wire/ranking.ts';
import type { Answer } from './ask.ts';
import { makeStore } from './make-store.ts';

/** Drives of a survey that an answer waits for; nothing where none is waited for. */
export type DrivesState = { readonly surveyId?: string; readonly done: number; readonly total: number };

export type DrivesSession = ReturnType<typeof createDrivesSession>;

/** Answers of these wait for simulated drives, which take minutes where tunnels are many. */
const WAITING = /^\/api\/surveys\/([^/?]+)\/(layers\/(complexes|decisions)|ranking|programme|export)(\?|$)/;

const FIRST_LOOK_MS = 1500;
const NEXT_LOOK_MS = 1000;

type DrivesDeps = {
  readonly read: (surveyId: string) => Promise<Answer<DrivesView>>;
  readonly end: (surveyId: string) => Promise<Answer<undefined>>;
};

/** How far the simulated drives are that a slow answer waits for. */
export function createDrivesSession({ read, end }: DrivesDeps) {
  const store = makeStore<DrivesState>({ done: 0, total: 0 });
  const waiting = new Map<string, number>();

  const look = async (surveyId: string): Promise<void> => {
    if (!waiting.has(surveyId)) return;
    const answer = await read(surveyId);
    if (!waiting.has(surveyId)) return;
    if (answer.ok && answer.value.total > 0) store.set({ surveyId, ...answer.value });
    else hide(surveyId);
    setTimeout(() => void look(surveyId), NEXT_LOOK_MS);
  };
  const hide = (surveyId: string) => {
    if (store.get().surveyId === surveyId) store.set({ done: 0, total: 0 });
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    /** Looks after a while, and again, as long as `answer` to a request for `path` is not there. */
    async watch<T>(path: string, answer: Promise<T>): Promise<T> {
      const id = WAITING.exec(path)?.[1];
      if (id === undefined) return answer;
      const surveyId = decodeURIComponent(id);
      const before = waiting.get(surveyId) ?? 0;
      waiting.set(surveyId, before + 1);
      if (before === 0) setTimeout(() => void look(surveyId), FIRST_LOOK_MS);
      try {
        return await answer;
      } finally {
        const left = (waiting.get(surveyId) ?? 1) - 1;
        if (left > 0) waiting.set(surveyId, left);
        else {
          waiting.delete(surveyId);
          hide(surveyId);
        }
      }
    },
    /** Ends them: what waits for them is refused, and can be asked for again. */
    async cancel() {
      const { surveyId } = store.get();
      if (surveyId !== undefined) await end(surveyId);
    },
  };
}

/** A fetch whose slow answers are watched. */
export function watchDrives(fetcher: typeof fetch, watch: DrivesSession['watch']): typeof fetch {
  return (input, init) => {
    const answer = fetcher(input, init);
    return typeof input === 'string' ? watch(input, answer) : answer;
  };
}

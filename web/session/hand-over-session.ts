import type { HandOverRequest } from '../../shared/wire/hand-over.ts';
import type { Api, ApiProblem } from './api.ts';
import type { Download } from './ask.ts';
import { makeStore } from './make-store.ts';

export type HandOverState = {
  readonly phase: 'idle' | 'working' | 'done' | 'cancelled' | 'failed';
  /** How much of the file has come. */
  readonly bytes: number;
  /** What the file that came is called. */
  readonly fileName: string | undefined;
  readonly problem: ApiProblem | undefined;
};

const IDLE: HandOverState = { phase: 'idle', bytes: 0, fileName: undefined, problem: undefined };

export type HandOverSession = ReturnType<typeof createHandOverSession>;

/** Fetches the file of a hand-over, one at a time; `save` gives it to the person. */
export function createHandOverSession(api: Pick<Api, 'handOver'>, save: (file: Download) => void) {
  const store = makeStore<HandOverState>(IDLE);
  let stop = new AbortController();
  return {
    get: store.get,
    subscribe: store.subscribe,
    async start(surveyId: string, request: HandOverRequest): Promise<void> {
      stop.abort();
      stop = new AbortController();
      const { signal } = stop;
      store.set({ ...IDLE, phase: 'working' });
      const answer = await api.handOver(surveyId, request, signal, (bytes) => {
        if (!signal.aborted) store.patch({ bytes });
      });
      if (signal.aborted) return;
      if (!answer.ok) {
        store.patch({ phase: 'failed', problem: answer.problem });
        return;
      }
      save(answer.value);
      store.patch({ phase: 'done', fileName: answer.value.name, bytes: answer.value.blob.size });
    },
    cancel() {
      stop.abort();
      store.set({ ...IDLE, phase: 'cancelled' });
    },
    /** Forgets what was; what is being fetched is given up. */
    reset() {
      stop.abort();
      store.set(IDLE);
    },
  };
}

/** Has the browser keep a file under its name. */
export function saveFile({ name, blob }: Download): void {
  const link = document.createElement('a');
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  // The browser reads it after the click has returned.
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000);
}

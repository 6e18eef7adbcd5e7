import type { Area, Progress, SurveyView } from '../../shared/wire/survey.ts';
import type { Answer, Api, ApiProblem } from './api.ts';
import { makeStore } from './make-store.ts';

/** What is being imported, and how it stands. */
export type ImportState =
  | { readonly phase: 'idle' }
  | { readonly phase: 'sending'; readonly name: string }
  | {
      readonly phase: 'working';
      readonly id: string;
      readonly name: string;
      readonly progress: Progress | undefined;
    }
  | {
      readonly phase: 'refused';
      readonly name: string;
      readonly detail: string;
      /** Why, as a code; undefined where nobody said. */
      readonly code: string | undefined;
    }
  | { readonly phase: 'ready'; readonly survey: SurveyView };

/** The part of EventSource that is used; tests bring their own. */
export type Events = Pick<EventSource, 'addEventListener' | 'close'>;

export type ImportSessionDeps = {
  readonly api: Pick<Api, 'startUpload' | 'startArea' | 'removeSurvey' | 'findSurvey' | 'eventsUrl'>;
  readonly openEvents: (url: string) => Events;
  readonly onReady: (survey: SurveyView) => void;
  /** The list of surveys has changed. */
  readonly onChange: () => void;
};

/** An import that was begun before, here or elsewhere. */
type Running = Pick<SurveyView, 'id' | 'name'> & { readonly progress?: Progress | undefined };

export type ImportSession = ReturnType<typeof createImportSession>;

/** One import at a time: sends it, follows its progress, cancels it. */
export function createImportSession({ api, openEvents, onReady, onChange }: ImportSessionDeps) {
  const store = makeStore<{ value: ImportState }>({ value: { phase: 'idle' } });
  let events: Events | undefined;
  const show = (value: ImportState) => store.set({ value });
  const stop = () => {
    events?.close();
    events = undefined;
  };

  const end = (name: string, view: SurveyView | undefined, problem?: ApiProblem) => {
    stop();
    onChange();
    if (view?.status === 'ready') {
      show({ phase: 'ready', survey: view });
      onReady(view);
    } else {
      const why = view?.refusal ?? problem;
      show({ phase: 'refused', name, detail: why?.detail ?? '', code: why?.code });
    }
  };

  /** Follows an import by its events; where the connection breaks, the survey itself is asked. */
  const follow = ({ id, name, progress }: Running) => {
    stop();
    show({ phase: 'working', id, name, progress });
    const source = openEvents(api.eventsUrl(id));
    events = source;
    const isCurrent = () => events === source;
    source.addEventListener('progress', (event) => {
      if (isCurrent()) show({ phase: 'working', id, name, progress: read<Progress>(event) });
    });
    for (const kind of ['ready', 'refused']) {
      source.addEventListener(kind, (event) => {
        if (isCurrent()) end(name, read<SurveyView>(event));
      });
    }
    source.addEventListener('error', () => void check(id, name, isCurrent));
  };
  const check = async (id: string, name: string, isCurrent: () => boolean) => {
    const answer = await api.findSurvey(id);
    // While the server is away the browser opens the events again by itself; after a sign-in, `again` does.
    if (!isCurrent() || (!answer.ok && WAITS.includes(answer.problem.code))) return;
    if (!answer.ok) end(name, undefined, answer.problem);
    else if (answer.value.status !== 'working') end(name, answer.value);
  };
  const begin = async (name: string, started: Promise<Answer<SurveyView>>) => {
    stop();
    show({ phase: 'sending', name });
    const sending = store.get().value;
    const answer = await started;
    if (store.get().value !== sending) {
      // Cancelled while it was being sent.
      if (answer.ok) await api.removeSurvey(answer.value.id);
      return;
    }
    if (!answer.ok)
      return show({ phase: 'refused', name, detail: answer.problem.detail, code: answer.problem.code });
    onChange();
    follow(answer.value);
  };

  return {
    get: () => store.get().value,
    subscribe: store.subscribe,
    /** Follows what was asked for elsewhere: a newer extract for a survey. */
    start: begin,
    startFile: (file: File) => begin(file.name, api.startUpload(file)),
    startArea: (area: Area, name: string) => begin(name, api.startArea(area, name)),
    follow,
    /** Asks for the events anew: a refused request is one that the browser gives up. */
    again() {
      const { value } = store.get();
      if (value.phase === 'working') follow(value);
    },
    async cancel() {
      const { value } = store.get();
      stop();
      show({ phase: 'idle' });
      if (value.phase === 'working') await api.removeSurvey(value.id);
      onChange();
    },
    dismiss() {
      if (store.get().value.phase !== 'working') show({ phase: 'idle' });
    },
  };
}

/** Problems that say nothing of the import. */
const WAITS = ['unreachable', 'sign-in-needed'];

function read<T>(event: Event): T {
  return JSON.parse((event as MessageEvent<string>).data) as T;
}

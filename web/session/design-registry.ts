import type { OpenDesigner } from '../worker/create-designer.ts';
import type { Api } from './api.ts';
import { createDesignSession, type DesignSession } from './design-session.ts';
import { makeStore } from './make-store.ts';
import type { OwnCommands } from './own-commands.ts';

export type DesignRegistryDeps = {
  readonly api: Api;
  readonly openDesigner: OpenDesigner;
  readonly makeId: () => string;
  readonly own: OwnCommands;
  readonly mayEdit: () => boolean;
  /** A tunnel was left, and the server's layers have changed since it was opened. */
  readonly onLeftChanged: () => void;
};

export type DesignRegistry = ReturnType<typeof createDesignRegistry>;

/** The tunnel that is open, and those that were left with edits still to be saved: none is forgotten. */
export function createDesignRegistry(deps: DesignRegistryDeps) {
  const store = makeStore<{
    readonly current: DesignSession | undefined;
    /** Unsaved edits in tunnels that are not open. */
    readonly parkedCount: number;
  }>({ current: undefined, parkedCount: 0 });
  const sessions = new Map<string, DesignSession>();
  let currentKey: string | undefined;
  let isChanged = false;

  const countParked = () => {
    for (const [key, session] of sessions) {
      if (key === currentKey || session.hasUnsaved()) continue;
      session.close();
      sessions.delete(key);
    }
    const parkedCount = [...sessions.keys()].filter((key) => key !== currentKey).length;
    if (parkedCount !== store.get().parkedCount) store.patch({ parkedCount });
  };
  const leave = () => {
    if (currentKey !== undefined) sessions.get(currentKey)?.settle();
    if (isChanged) deps.onLeftChanged();
    isChanged = false;
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    open(surveyId: string | undefined, complexId: string | undefined) {
      const key = surveyId === undefined || complexId === undefined ? undefined : `${surveyId}/${complexId}`;
      if (key === currentKey) return;
      leave();
      currentKey = key;
      if (key === undefined || surveyId === undefined || complexId === undefined) {
        store.patch({ current: undefined });
        return countParked();
      }
      const session = sessions.get(key) ?? start(key, surveyId, complexId);
      store.patch({ current: session });
      countParked();
    },
    /** Sends everything that is unsaved. */
    retryAll: () => Promise.all([...sessions.values()].map((session) => session.retry())),
    /** The same, with what is still being made: before the survey under the designs changes. */
    flush: () => Promise.all([...sessions.values()].map((session) => session.flush())),
    hasUnsaved: () => [...sessions.values()].some((session) => session.hasUnsaved()),
    /** The survey has changed: the open tunnel is read again, unsaved edits on top. */
    reloadCurrent: () => store.get().current?.reload(),
    /** The revision of the open tunnel's design, as it was saved last; undefined for every other tunnel. */
    knownRevision: (complexId: string) => store.get().current?.knownRevision(complexId),
  };

  function start(key: string, surveyId: string, complexId: string): DesignSession {
    const onSaved = () => {
      if (key === currentKey) isChanged = true;
      else deps.onLeftChanged();
      countParked();
    };
    const session = createDesignSession({ ...deps, surveyId, complexId, onSaved });
    sessions.set(key, session);
    session.subscribe(() => {
      if (key !== currentKey) countParked();
    });
    return session;
  }
}

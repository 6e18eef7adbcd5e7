import { createContext, useContext } from 'react';
import { createKeptInputs } from '../ranking/kept-inputs.ts';
import { createAccountApi } from '../session/account-api.ts';
import { createApi } from '../session/api.ts';
import { createAsk } from '../session/ask.ts';
import { makeCommandId } from '../session/command-id.ts';
import { createComparisonSession } from '../session/comparison-session.ts';
import { createConnection, watchFetch } from '../session/connection.ts';
import { createDesignRegistry } from '../session/design-registry.ts';
import { createDrivesSession, watchDrives } from '../session/drives-session.ts';
import { createHandOverSession, saveFile } from '../session/hand-over-session.ts';
import { createImportSession } from '../session/import-session.ts';
import { createLiveChanges } from '../session/live-changes.ts';
import { createOwnCommands } from '../session/own-commands.ts';
import { createProgrammeSession } from '../session/programme-session.ts';
import { createSurveyEditor } from '../session/survey-editor.ts';
import { createSurveySession } from '../session/survey-session.ts';
import { createWhoSession } from '../session/who-session.ts';
import { createDesigners } from '../worker/create-designer.ts';
import { createViewState } from './view-state.ts';

export type Sessions = ReturnType<typeof createSessions>;

/** Everything that outlives a component, wired once for the page. */
export function createSessions() {
  const watched = watchFetch(
    (...given) => fetch(...given),
    () => connection.lost(),
  );
  const drives = createDrivesSession({
    read: (id) => api.drives(id),
    end: (id) => api.endDrives(id),
  });
  const ask = createAsk(watchDrives(watched, drives.watch), (problem) => who.heard(problem));
  const api = createApi(ask);
  const accounts = createAccountApi(ask);
  const who = createWhoSession({
    api: accounts,
    page: window,
    onShare: (surveyId) => view.openSurvey(surveyId, false),
    onBack: () => comeBack(),
    leave: () => window.location.reload(),
  });
  /** A refused request for events is one that the browser gives up: the session may have ended. */
  const openEvents = (url: string) => {
    const source = new EventSource(url);
    source.addEventListener('error', () => {
      if (source.readyState === EventSource.CLOSED) void who.reread();
    });
    return source;
  };
  const surveys = createSurveySession(api);
  const view = createViewState(window);
  const designs = createDesignRegistry({
    api,
    openDesigner: createDesigners(),
    makeId: makeCommandId,
    own: createOwnCommands(() => window.sessionStorage),
    mayEdit: () => who.rights().mayEdit,
    onLeftChanged: () => void surveys.rereadDesigns(),
  });
  const imports = createImportSession({
    api,
    openEvents,
    onReady: (survey) => {
      view.openSurvey(survey.id);
      surveys.open(survey.id);
    },
    onChange: () => void surveys.refresh(),
  });
  const editor = createSurveyEditor({
    api,
    surveys,
    designs,
    makeId: makeCommandId,
    findOpenTunnel: () => view.get().address.tunnel,
    showTunnel: (id) => (id === undefined ? view.openTable() : view.openTunnel(id, false)),
  });
  const programme = createProgrammeSession(api);
  const handOver = createHandOverSession(api, saveFile);
  const inputs = createKeptInputs(() => window.localStorage);
  const comparison = createComparisonSession({ api, surveys, editor, designs });
  /** Newer extracts of surveys: their imports, one at a time. */
  const updates = createImportSession({
    api,
    openEvents,
    onReady: async ({ forSurvey }) => {
      await surveys.refresh();
      // Whoever went on to a tunnel meanwhile is told by the banner.
      const { survey, tunnel } = view.get().address;
      if (survey === forSurvey && tunnel === undefined) view.openPanel('changes');
    },
    onChange: () => void surveys.refresh(),
  });
  const live = createLiveChanges({
    api,
    openEvents,
    knownRevision: (id) => surveys.find(id)?.revision,
    knownDesign: (complexId) => designs.knownRevision(complexId),
    onChanged: (isOpenTunnel) => {
      void surveys.reread();
      if (isOpenTunnel) void designs.reloadCurrent();
    },
    onGone: () => void surveys.refresh(),
  });
  surveys.subscribe(() => {
    const { openId, open } = surveys.get();
    live.follow(open?.status === 'ready' ? openId : undefined);
  });
  /** The server answers again: what it did not answer is asked for again. */
  const comeBack = () => {
    void surveys.refresh();
    const { openId } = surveys.get();
    if (openId !== undefined) surveys.open(openId);
    void designs.retryAll();
    for (const followed of [live, imports, updates]) followed.again();
    void designs.reloadCurrent();
  };
  const connection = createConnection(api.isUp, () => {
    if (who.get().status === 'failed') void who.start();
    else comeBack();
  });
  return {
    who,
    accounts,
    api,
    surveys,
    view,
    designs,
    imports,
    updates,
    editor,
    comparison,
    programme,
    handOver,
    inputs,
    connection,
    drives,
  };
}

const SessionsContext = createContext<Sessions | undefined>(undefined);
export const SessionsProvider = SessionsContext.Provider;

/** The page's sessions. */
export function useSessions(): Sessions {
  const sessions = useContext(SessionsContext);
  if (sessions === undefined) throw new Error('no sessions around this component');
  return sessions;
}

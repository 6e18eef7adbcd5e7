import { createContext, useContext } from 'react';
import { createKeptInputs } from '../ranking/kept-inputs.ts';
import { createApi } from '../session/api.ts';
import { makeCommandId } from '../session/command-id.ts';
import { createComparisonSession } from '../session/comparison-session.ts';
import { createConnection, watchFetch } from '../session/connection.ts';
import { createDesignRegistry } from '../session/design-registry.ts';
import { createImportSession } from '../session/import-session.ts';
import { createLiveChanges } from '../session/live-changes.ts';
import { createOwnCommands } from '../session/own-commands.ts';
import { createProgrammeSession } from '../session/programme-session.ts';
import { createSurveyEditor } from '../session/survey-editor.ts';
import { createSurveySession } from '../session/survey-session.ts';
import { createDesigners } from '../worker/create-designer.ts';
import { createViewState } from './view-state.ts';

export type Sessions = ReturnType<typeof createSessions>;

/** Everything that outlives a component, wired once for the page. */
export function createSessions() {
  const api = createApi(
    watchFetch(
      (...given) => fetch(...given),
      () => connection.lost(),
    ),
  );
  const surveys = createSurveySession(api);
  const view = createViewState(window);
  const designs = createDesignRegistry({
    api,
    openDesigner: createDesigners(),
    makeId: makeCommandId,
    own: createOwnCommands(() => window.sessionStorage),
    onLeftChanged: () => void surveys.rereadDesigns(),
  });
  const imports = createImportSession({
    api,
    openEvents: (url) => new EventSource(url),
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
  const inputs = createKeptInputs(() => window.localStorage);
  const comparison = createComparisonSession({ api, surveys, editor, designs });
  /** Newer extracts of surveys: their imports, one at a time. */
  const updates = createImportSession({
    api,
    openEvents: (url) => new EventSource(url),
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
    openEvents: (url) => new EventSource(url),
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
  const connection = createConnection(api.isUp, () => {
    void surveys.refresh();
    const { openId } = surveys.get();
    if (openId !== undefined) surveys.open(openId);
    void designs.retryAll();
  });
  return {
    api,
    surveys,
    view,
    designs,
    imports,
    updates,
    editor,
    comparison,
    programme,
    inputs,
    connection,
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

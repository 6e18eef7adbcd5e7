import type { SurveyChange } from '../../shared/wire/changes.ts';
import type { Api } from './api.ts';
import type { Events } from './import-session.ts';

export type LiveChangesDeps = {
  readonly api: Pick<Api, 'changesUrl'>;
  readonly openEvents: (url: string) => Events;
  /** The revision of a survey that the page shows; undefined where it does not know the survey. */
  readonly knownRevision: (surveyId: string) => number | undefined;
  /** The revision of the open tunnel's design that the page shows; undefined where that tunnel is not open. */
  readonly knownDesign: (complexId: string) => number | undefined;
  /** Others changed the survey, or tunnels of it: `isOpenTunnel` where the one that is open is among them. */
  readonly onChanged: (isOpenTunnel: boolean) => void;
  /** The survey was removed. */
  readonly onGone: () => void;
};

/** How long changes are gathered: what the page itself has sent is answered meanwhile, and is known then. */
const GATHER_MS = 400;

/** Follows what others change in the survey that is open. */
export function createLiveChanges(deps: LiveChangesDeps) {
  let followed: string | undefined;
  let events: Events | undefined;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let gathered: SurveyChange[] = [];

  const look = (surveyId: string) => {
    timer = undefined;
    const changes = gathered;
    gathered = [];
    const known = deps.knownRevision(surveyId) ?? -1;
    let isOpenTunnel = false;
    const news = changes.filter(({ revision, scheme }) => {
      const design = scheme === undefined ? undefined : deps.knownDesign(scheme.complexId);
      if (scheme === undefined || design === undefined) return revision > known;
      if (scheme.revision > design) isOpenTunnel = true;
      return scheme.revision > design;
    });
    if (news.length === 0) return;
    const ofSurvey = news.some(({ scheme }) => scheme === undefined);
    deps.onChanged(isOpenTunnel || ofSurvey);
  };

  const stop = () => {
    clearTimeout(timer);
    timer = undefined;
    gathered = [];
    events?.close();
    events = undefined;
    followed = undefined;
  };

  const follow = (surveyId: string | undefined) => {
    if (surveyId === followed) return;
    stop();
    if (surveyId === undefined) return;
    followed = surveyId;
    const source = deps.openEvents(deps.api.changesUrl(surveyId));
    events = source;
    source.addEventListener('changed', (event) => {
      if (events !== source) return;
      gathered.push(JSON.parse((event as MessageEvent<string>).data) as SurveyChange);
      timer ??= setTimeout(() => look(surveyId), GATHER_MS);
    });
    source.addEventListener('gone', () => {
      if (events !== source) return;
      stop();
      deps.onGone();
    });
  };

  return {
    /** Follows this survey from now on, and no other. */
    follow,
    /** Asks for the events anew: a refused request is one that the browser gives up. */
    again() {
      const surveyId = followed;
      stop();
      follow(surveyId);
    },
    stop,
  };
}

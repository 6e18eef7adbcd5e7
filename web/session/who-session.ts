import type { Who } from '../../shared/wire/accounts.ts';
import type { AccountApi } from './account-api.ts';
import type { Answer, ApiProblem } from './ask.ts';
import { makeStore } from './make-store.ts';

export type WhoState = {
  readonly status: 'loading' | 'failed' | 'known';
  readonly who: Who;
  /** Why it is not known who asks. */
  readonly problem: ApiProblem | undefined;
  /** Why the link with which the page was opened does not hold. */
  readonly shareProblem: ApiProblem | undefined;
  /** What the link showed until now is not shown any more. */
  readonly hasShareEnded: boolean;
  /** The session ended while the page was open: what is on the screen stays, and unsaved edits with it. */
  readonly isEnded: boolean;
  /** The form stands there, over the page or in its place. */
  readonly asksSignIn: boolean;
};

export type WhoDeps = {
  readonly api: Pick<AccountApi, 'who' | 'signIn' | 'signOut' | 'openShare'>;
  readonly page: Pick<Window, 'location' | 'history'>;
  /** A link was opened: this is what it shows. */
  readonly onShare: (surveyId: string) => void;
  /** Signed in again after the session had ended: what was refused meanwhile can be asked again. */
  readonly onBack: () => void;
  /** Somebody else, or nobody, asks from now on: nothing of what was read may stay. */
  readonly leave: () => void;
};

export type WhoSession = ReturnType<typeof createWhoSession>;

/** What a person may do with what they see. */
export type Rights = {
  readonly mayEdit: boolean;
  readonly mayAdminister: boolean;
  /** Who did what when is for those who work on it. */
  readonly maySeeHistory: boolean;
};

/** Without login, everybody may change everything; a share link changes nothing. */
export function toRights({ mode, account }: Who): Rights {
  const role = account?.role;
  return {
    mayEdit: mode === 'local' || role === 'planner' || role === 'administrator',
    mayAdminister: role === 'administrator',
    maySeeHistory: mode === 'local' || role !== undefined,
  };
}

const NOT_ASKED = { isEnded: false, asksSignIn: false, hasShareEnded: false } as const;

/** Who looks at the page: asked before anything else is, signed in and out, and asked again when the session ends. */
export function createWhoSession({ api, page, onShare, onBack, leave }: WhoDeps) {
  const store = makeStore<WhoState>({
    status: 'loading',
    who: { mode: 'local' },
    problem: undefined,
    shareProblem: undefined,
    ...NOT_ASKED,
  });
  let token = takeShareToken(page);

  const know = (who: Who) => store.patch({ status: 'known', who, problem: undefined });
  const ended = () => {
    const { status, who, isEnded } = store.get();
    if (status !== 'known' || isEnded) return;
    if (who.account !== undefined) store.patch({ isEnded: true, asksSignIn: true });
    else if (who.share !== undefined) store.patch({ who: { mode: who.mode }, hasShareEnded: true });
    // The server was started anew, with accounts this time.
    else if (who.mode === 'local') void reread();
  };
  const take = (who: Who) => {
    const { who: before, isEnded } = store.get();
    const [known, now] = [nameOf(before), nameOf(who)];
    if (known !== undefined && now === undefined) return ended();
    if (known !== undefined && known !== now) return leave();
    know(who);
    if (!isEnded) return;
    store.patch(NOT_ASKED);
    onBack();
  };
  /** Asks again who it is: a role may be another one, the session may have ended, somebody may have signed in elsewhere. */
  const reread = async () => {
    const answer = await api.who();
    if (!answer.ok) return;
    if (store.get().status === 'known') take(answer.value);
    else know(answer.value);
  };
  const openLink = async (): Promise<boolean> => {
    if (token === undefined) return false;
    const answer = await api.openShare(token);
    if (!answer.ok && answer.problem.code === 'unreachable') {
      store.patch({ status: 'failed', problem: answer.problem });
      return true;
    }
    token = undefined;
    if (!answer.ok) {
      store.patch({ shareProblem: answer.problem });
      return false;
    }
    if (answer.value.share !== undefined) onShare(answer.value.share.surveyId);
    know(answer.value);
    return true;
  };

  return {
    get: store.get,
    subscribe: store.subscribe,
    /** Asks who it is; where the address is a share link, opens it first. Also to try again what failed. */
    async start(): Promise<void> {
      store.patch({ status: 'loading', problem: undefined });
      if (await openLink()) return;
      const answer = await api.who();
      if (answer.ok) know(answer.value);
      else store.patch({ status: 'failed', problem: answer.problem });
    },
    reread,
    rights: (): Rights => toRights(store.get().who),
    /** To be told of every problem that an answer brought. */
    heard({ code }: ApiProblem): void {
      if (code === 'sign-in-needed') ended();
      if (code === 'not-permitted') void reread();
    },
    /** The problem where nobody is signed in by it. */
    async signIn(email: string, password: string): Promise<ApiProblem | undefined> {
      const answer: Answer<Who> = await api.signIn({ email, password });
      if (!answer.ok) return answer.problem;
      const { isEnded, who: before } = store.get();
      if (isEnded && nameOf(before) !== nameOf(answer.value)) {
        leave();
        return undefined;
      }
      know(answer.value);
      store.patch({ ...NOT_ASKED, shareProblem: undefined });
      if (isEnded) onBack();
      return undefined;
    },
    /** Ends the session, or looking through a link. The problem where it goes on. */
    async signOut(): Promise<ApiProblem | undefined> {
      const answer = await api.signOut();
      if (!answer.ok && answer.problem.code !== 'sign-in-needed') return answer.problem;
      leave();
      return undefined;
    },
    /** Shows the form, or goes back to what is seen without it. */
    askSignIn: (asksSignIn: boolean) => store.patch({ asksSignIn }),
    dismissShareProblem: () => store.patch({ shareProblem: undefined }),
  };
}

/** Undefined where nobody is signed in and no link is looked through. */
function nameOf({ account, share }: Who): string | undefined {
  if (account !== undefined) return `account ${account.id}`;
  return share === undefined ? undefined : `share of ${share.surveyId}`;
}

const SHARE = '#share=';

/** Whether an address is a share link. */
export function isShareLink(hash: string): boolean {
  return hash.startsWith(SHARE) && hash.length > SHARE.length;
}

/** The secret is taken out of the address before anything else: it shall not stay in the history or be copied from there. */
function takeShareToken({ location, history }: WhoDeps['page']): string | undefined {
  if (!isShareLink(location.hash)) return undefined;
  const token = location.hash.slice(SHARE.length);
  history.replaceState(null, '', `${location.pathname}${location.search}`);
  return token;
}

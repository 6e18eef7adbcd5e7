import type {
  AccountPatch,
  AccountView,
  ChangePassword,
  MadePassword,
  MadeShare,
  NewAccount,
  NewShare,
  SessionList,
  ShareView,
  SignIn,
  Who,
} from '../../shared/wire/accounts.ts';
import type { Ask } from './ask.ts';

export type AccountApi = ReturnType<typeof createAccountApi>;

/** The part of the server's API that is about people: who asks, accounts, sessions, share links. */
export function createAccountApi({ ask, send }: Ask) {
  const end = (path: string) => ask<undefined>(path, { method: 'DELETE' });
  const account = (id: string) => `/api/accounts/${encodeURIComponent(id)}`;
  const shares = (surveyId: string) => `/api/surveys/${encodeURIComponent(surveyId)}/shares`;

  return {
    who: () => ask<Who>('/api/session'),
    signIn: (given: SignIn) => send<Who>('POST', '/api/session', given),
    openShare: (token: string) => send<Who>('POST', '/api/session/share', { token }),
    signOut: () => end('/api/session'),
    changePassword: (given: ChangePassword) => send<undefined>('PUT', '/api/account/password', given),
    listSessions: () => ask<SessionList>('/api/account/sessions'),
    endSession: (id: string) => end(`/api/account/sessions/${encodeURIComponent(id)}`),
    listAccounts: () => ask<{ accounts: readonly AccountView[] }>('/api/accounts'),
    addAccount: (given: NewAccount) => send<MadePassword>('POST', '/api/accounts', given),
    changeAccount: (id: string, patch: AccountPatch) => send<AccountView>('PATCH', account(id), patch),
    /** A new password; whoever used the old one is signed out. */
    renewPassword: (id: string) => send<MadePassword>('POST', `${account(id)}/password`, {}),
    endSessions: (id: string) => end(`${account(id)}/sessions`),
    listShares: (surveyId: string) => ask<{ shares: readonly ShareView[] }>(shares(surveyId)),
    share: (surveyId: string, given: NewShare) => send<MadeShare>('POST', shares(surveyId), given),
    takeBackShare: (surveyId: string, id: string) => end(`${shares(surveyId)}/${encodeURIComponent(id)}`),
  };
}

import type { ReactNode } from 'react';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import type { AccountDialog } from '../app/view-state.ts';
import { toRights } from '../session/who-session.ts';
import { formatDate } from '../ui/format.ts';
import { Menu } from '../ui/menu.tsx';
import { useStore } from '../ui/use-store.ts';
import { PersonIcon } from './person-icon.tsx';

const say = accountWords.menu;

/** Who is signed in and what they can do with their account; `extra` is what has no room elsewhere. */
export function AccountMenu({ extra }: { readonly extra: ReactNode }) {
  const { who: session } = useSessions();
  const { who } = useStore(session);
  const { account, share } = who;
  const title = account?.name ?? (share === undefined ? '' : say.sharedUntil(formatDate(share.expiresAt)));
  return (
    <Menu
      className="account-menu"
      align="right"
      title={say.label}
      label={
        <>
          <PersonIcon />
          <span className="hidden-from-sight">{say.label}: </span>
          <span className="account-name">{title}</span>
          <span aria-hidden="true">▾</span>
        </>
      }
    >
      {(close) => (
        <div className="account-items">
          {account === undefined ? <ShareItems close={close} /> : <AccountItems close={close} />}
          {extra}
        </div>
      )}
    </Menu>
  );
}

type ItemsProps = { readonly close: () => void };

function AccountItems({ close }: ItemsProps) {
  const { who: session, view } = useSessions();
  const { who } = useStore(session);
  const signOut = useSignOut();
  const { account } = who;
  if (account === undefined) return null;
  const item = (dialog: AccountDialog, text: string) => (
    <button
      type="button"
      className="quiet"
      onClick={() => {
        close();
        view.patch({ dialog });
      }}
    >
      {text}
    </button>
  );
  return (
    <>
      <p>
        <strong>{account.name}</strong>
        <span className="muted">
          {accountWords.roles[account.role]} · {account.email}
        </span>
        <span className="muted">{accountWords.roleNotes[account.role]}</span>
      </p>
      {item('password', say.password)}
      {item('sessions', say.sessions)}
      {toRights(who).mayAdminister && item('accounts', say.accounts)}
      <button type="button" className="quiet" onClick={() => void signOut()}>
        {say.signOut}
      </button>
    </>
  );
}

function ShareItems({ close }: ItemsProps) {
  const { who: session } = useSessions();
  const { share } = useStore(session).who;
  const signOut = useSignOut();
  return (
    <>
      <p>
        <strong>{share === undefined ? say.shared : say.sharedUntil(formatDate(share.expiresAt))}</strong>
        <span className="muted">{say.sharedNote}</span>
      </p>
      <button
        type="button"
        className="quiet"
        onClick={() => {
          close();
          session.askSignIn(true);
        }}
      >
        {accountWords.signIn.action}
      </button>
      <button type="button" className="quiet" onClick={() => void signOut()}>
        {say.leaveShare}
      </button>
    </>
  );
}

/** Saves first what can be saved. */
function useSignOut(): () => Promise<void> {
  const { who, designs } = useSessions();
  return async () => {
    await designs.flush();
    if (designs.hasUnsaved() && !window.confirm(say.signOutAsk)) return;
    const problem = await who.signOut();
    if (problem !== undefined) window.alert(`${accountWords.notDone} ${problem.detail}`);
  };
}

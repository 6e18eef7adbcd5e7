import '../accounts/accounts.css';
import { useEffect } from 'react';
import { accountWords as say } from '../account-words.ts';
import { SignInAgain } from '../accounts/sign-in-again.tsx';
import { SignInPage } from '../accounts/sign-in-page.tsx';
import { isShareLink } from '../session/who-session.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { App } from './app.tsx';
import { useSessions } from './sessions.ts';

/** What stands before the app: who looks at it is known first, and signed in where the server wants that. */
export function Gate() {
  const { who: session } = useSessions();
  const { status, who, problem, isEnded, asksSignIn } = useStore(session);
  useWatchPage();
  if (status === 'loading') {
    return (
      <p className="empty muted starting" role="status">
        {say.starting}
      </p>
    );
  }
  if (status === 'failed' && problem !== undefined) {
    return <ProblemNote title={say.startFailed} problem={problem} onRetry={() => void session.start()} />;
  }
  const isNobody = who.mode === 'accounts' && who.account === undefined && who.share === undefined;
  if (isNobody || (asksSignIn && !isEnded)) return <SignInPage />;
  return (
    <>
      <App />
      {isEnded && <SignInAgain isOpen={asksSignIn} />}
    </>
  );
}

/** Somebody may have signed in or out in another window, or a share link may have been put into the address. */
function useWatchPage(): void {
  const { who } = useSessions();
  useEffect(() => {
    const look = () => {
      const { status, who: known } = who.get();
      if (document.visibilityState === 'visible' && status === 'known' && known.mode === 'accounts') {
        void who.reread();
      }
    };
    const change = () => {
      if (isShareLink(window.location.hash)) window.location.reload();
    };
    document.addEventListener('visibilitychange', look);
    window.addEventListener('hashchange', change);
    return () => {
      document.removeEventListener('visibilitychange', look);
      window.removeEventListener('hashchange', change);
    };
  }, [who]);
}

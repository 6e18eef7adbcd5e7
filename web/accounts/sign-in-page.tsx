import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import type { ApiProblem } from '../session/api.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { SignInForm } from './sign-in-form.tsx';

const say = accountWords.signIn;

/** The page of whoever is not known yet. */
export function SignInPage() {
  const { who: session } = useSessions();
  const { who, shareProblem, hasShareEnded } = useStore(session);
  return (
    <main className="sign-in">
      <div className="sign-in-card">
        <h1>
          <img src="/icon.svg" alt="" width="28" height="28" />
          {words.product}
        </h1>
        {shareProblem !== undefined && (
          <p className="notice error" role="alert">
            <span>{describeShareProblem(shareProblem)}</span>
          </p>
        )}
        {hasShareEnded && (
          <p className="notice warning" role="alert">
            <span>{say.shareEnded}</span>
          </p>
        )}
        <h2>{say.title}</h2>
        <SignInForm />
        <p className="muted">{say.madeBy}</p>
        {who.share !== undefined && (
          <button type="button" className="link" onClick={() => session.askSignIn(false)}>
            {say.back}
          </button>
        )}
      </div>
    </main>
  );
}

/** Why a share link does not open; half a link is no request that the server understands. */
export function describeShareProblem({ code, detail }: ApiProblem): string {
  return code === 'request-invalid' ? say.shareUnsound : detail;
}

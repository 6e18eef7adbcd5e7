import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { Dialog } from '../ui/dialog.tsx';
import { useStore } from '../ui/use-store.ts';
import { SignInForm } from './sign-in-form.tsx';

const say = accountWords.ended;

/** Over the page, for whoever was signed out by time or from elsewhere: nothing below it is lost. */
export function SignInAgain({ isOpen }: { readonly isOpen: boolean }) {
  const { who: session } = useSessions();
  const { who } = useStore(session);
  return (
    <Dialog title={say.title} isOpen={isOpen} onClose={() => session.askSignIn(false)}>
      <div className="dialog-body">
        <p>{say.text}</p>
        <SignInForm fixedEmail={who.account?.email} />
        <p className="muted">
          <button type="button" className="link" onClick={() => window.location.reload()}>
            {say.other}
          </button>{' '}
          {say.otherNote}
        </p>
      </div>
    </Dialog>
  );
}

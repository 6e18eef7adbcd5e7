import { type FormEvent, useEffect, useId, useRef, useState } from 'react';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';

const say = accountWords.signIn;

/** E-mail and password; with a fixed address for somebody whose session has ended. */
export function SignInForm({ fixedEmail }: { readonly fixedEmail?: string | undefined }) {
  const { who } = useSessions();
  const [email, setEmail] = useState(fixedEmail ?? '');
  const [password, setPassword] = useState('');
  const [isShown, setShown] = useState(false);
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string>();
  const emailField = useRef<HTMLInputElement>(null);
  const passwordField = useRef<HTMLInputElement>(null);
  const id = useId();
  useEffect(() => {
    const field = fixedEmail === undefined ? emailField : passwordField;
    // After a dialog around it has opened, which takes the focus for its first button.
    const frame = requestAnimationFrame(() => field.current?.focus());
    return () => cancelAnimationFrame(frame);
  }, [fixedEmail]);
  const fail = (detail: string, field: HTMLInputElement | null) => {
    setProblem(detail);
    field?.focus();
    field?.select();
  };
  const submit = async (event: FormEvent) => {
    event.preventDefault();
    if (isBusy) return;
    const given = email.trim();
    if (given === '') return fail(say.missing, emailField.current);
    if (password === '') return fail(say.missing, passwordField.current);
    setProblem(undefined);
    setBusy(true);
    const found = await who.signIn(given, password);
    setBusy(false);
    if (found !== undefined) fail(found.detail, passwordField.current);
  };
  const described =
    problem === undefined ? {} : { 'aria-invalid': true, 'aria-describedby': `${id}-problem` };
  return (
    <form className="account-form" onSubmit={(event) => void submit(event)} noValidate aria-busy={isBusy}>
      <label className="stacked">
        {say.email}
        <input
          ref={emailField}
          type="email"
          name="email"
          autoComplete="username"
          autoCapitalize="none"
          spellCheck={false}
          readOnly={fixedEmail !== undefined}
          value={email}
          onChange={(event) => setEmail(event.target.value)}
          {...described}
        />
      </label>
      <div className="stacked">
        <label htmlFor={`${id}-password`}>{say.password}</label>
        <span className="password-line">
          <input
            ref={passwordField}
            id={`${id}-password`}
            type={isShown ? 'text' : 'password'}
            name="password"
            autoComplete="current-password"
            autoCapitalize="none"
            spellCheck={false}
            value={password}
            onChange={(event) => setPassword(event.target.value)}
            {...described}
          />
          <button
            type="button"
            aria-pressed={isShown}
            aria-label={say.showLong}
            onClick={() => setShown(!isShown)}
          >
            {isShown ? say.hide : say.show}
          </button>
        </span>
      </div>
      {problem !== undefined && (
        <p id={`${id}-problem`} className="bad" role="alert">
          {problem}
        </p>
      )}
      <button type="submit" className="primary" aria-disabled={isBusy}>
        {isBusy ? say.working : say.action}
      </button>
    </form>
  );
}

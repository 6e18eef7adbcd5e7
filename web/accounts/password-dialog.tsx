import { type FormEvent, useState } from 'react';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { Dialog } from '../ui/dialog.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { SHORTEST_PASSWORD } from './limits.ts';

const say = accountWords.password;
const FIELDS = ['current', 'next', 'repeat'] as const;
type Field = (typeof FIELDS)[number];
type Texts = Readonly<Record<Field, string>>;
type Problem = { readonly field: Field; readonly detail: string };

/** One's own password: the present one, and a new one twice. */
export function PasswordDialog({ onClose }: { readonly onClose: () => void }) {
  const [isDone, setDone] = useState(false);
  return (
    <Dialog title={say.title} isOpen onClose={onClose}>
      <div className="dialog-body">
        {isDone ? (
          <>
            <p role="status">{say.done}</p>
            <button type="button" className="primary start" onClick={onClose}>
              {words.close}
            </button>
          </>
        ) : (
          <PasswordForm onDone={() => setDone(true)} />
        )}
      </div>
    </Dialog>
  );
}

function PasswordForm({ onDone }: { readonly onDone: () => void }) {
  const { accounts, who } = useSessions();
  const email = useStore(who).who.account?.email ?? '';
  const [texts, setTexts] = useState<Texts>({ current: '', next: '', repeat: '' });
  const [problem, setProblem] = useState<Problem>();
  const [isBusy, setBusy] = useState(false);
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (isBusy) return;
    const form = event.currentTarget;
    const fail = (found: Problem) => {
      setProblem(found);
      form.querySelector<HTMLInputElement>(`[name="${found.field}"]`)?.focus();
    };
    const found = check(texts);
    if (found !== undefined) return fail(found);
    setProblem(undefined);
    setBusy(true);
    const answer = await accounts.changePassword({ currentPassword: texts.current, newPassword: texts.next });
    setBusy(false);
    if (answer.ok) return onDone();
    const { code, detail } = answer.problem;
    fail({ field: code === 'password-weak' ? 'next' : 'current', detail });
  };
  return (
    <form className="account-form" onSubmit={(event) => void submit(event)} noValidate aria-busy={isBusy}>
      {/* So that a password manager knows whose password it is. */}
      <input
        className="hidden-from-sight"
        tabIndex={-1}
        aria-hidden
        autoComplete="username"
        readOnly
        value={email}
      />
      {FIELDS.map((field) => (
        <label key={field} className="stacked">
          {say[field]}
          <input
            type="password"
            name={field}
            autoComplete={field === 'current' ? 'current-password' : 'new-password'}
            value={texts[field]}
            aria-invalid={problem?.field === field}
            aria-describedby={problem?.field === field ? 'password-problem' : undefined}
            onChange={(event) => setTexts({ ...texts, [field]: event.target.value })}
          />
          {field === 'next' && <span className="muted">{say.note}</span>}
        </label>
      ))}
      {problem !== undefined && (
        <p id="password-problem" className="bad" role="alert">
          {problem.detail}
        </p>
      )}
      <button type="submit" className="primary" aria-disabled={isBusy}>
        {isBusy ? say.working : say.action}
      </button>
    </form>
  );
}

function check({ current, next, repeat }: Texts): Problem | undefined {
  if (current === '') return { field: 'current', detail: say.missing };
  if (next.length < SHORTEST_PASSWORD) return { field: 'next', detail: say.short };
  if (next !== repeat) return { field: 'repeat', detail: say.differs };
  return undefined;
}

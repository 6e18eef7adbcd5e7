import { type FormEvent, useId, useState } from 'react';
import type { MadePassword, Role } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { RoleSelect } from './account-row.tsx';

const say = accountWords.accounts;

/** Name, e-mail and role of a new account; the server makes its password. */
export function AddAccount({ onMade }: { readonly onMade: (made: MadePassword) => void }) {
  const { accounts } = useSessions();
  const id = useId();
  const [name, setName] = useState('');
  const [email, setEmail] = useState('');
  const [role, setRole] = useState<Role>('reader');
  const [isBusy, setBusy] = useState(false);
  const [problem, setProblem] = useState<string>();
  const submit = async (event: FormEvent<HTMLFormElement>) => {
    event.preventDefault();
    if (isBusy) return;
    const form = event.currentTarget;
    const empty = name.trim() === '' ? 'name' : email.trim() === '' ? 'email' : undefined;
    if (empty !== undefined) {
      setProblem(say.addMissing);
      return form.querySelector<HTMLInputElement>(`[name="${empty}"]`)?.focus();
    }
    setBusy(true);
    const answer = await accounts.addAccount({ name: name.trim(), email: email.trim(), role });
    setBusy(false);
    if (!answer.ok) {
      setProblem(answer.problem.detail);
      return form.querySelector<HTMLInputElement>('[name="email"]')?.focus();
    }
    setProblem(undefined);
    setName('');
    setEmail('');
    onMade(answer.value);
  };
  return (
    <form className="add-account" onSubmit={(event) => void submit(event)} noValidate aria-busy={isBusy}>
      <h3>{say.add}</h3>
      <label className="stacked">
        {say.name}
        <input
          name="name"
          autoComplete="off"
          value={name}
          onChange={(event) => setName(event.target.value)}
        />
      </label>
      <label className="stacked">
        {say.email}
        <input
          name="email"
          type="email"
          autoComplete="off"
          value={email}
          onChange={(event) => setEmail(event.target.value)}
        />
      </label>
      <div className="stacked">
        <label htmlFor={id}>{say.role}</label>
        <RoleSelect id={id} role={role} onChange={setRole} />
      </div>
      <button type="submit" className="primary" aria-disabled={isBusy}>
        {isBusy ? say.adding : say.addAction}
      </button>
      <p className="muted">{accountWords.roleNotes[role]}</p>
      {problem !== undefined && (
        <p className="bad" role="alert">
          {problem}
        </p>
      )}
    </form>
  );
}

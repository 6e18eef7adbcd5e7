import { useRef, useState } from 'react';
import type { AccountPatch, MadePassword } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import type { Answer, ApiProblem } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { AccountRow } from './account-row.tsx';
import { AddAccount } from './add-account.tsx';
import { SecretNote } from './secret-note.tsx';
import { useLoaded } from './use-loaded.ts';

const say = accountWords.accounts;

/** Every account: roles, sessions, new ones; a password that was made is told once. */
export function AccountsDialog({ onClose }: { readonly onClose: () => void }) {
  const { accounts, who } = useSessions();
  const ownId = useStore(who).who.account?.id;
  const { value, problem, reload } = useLoaded(accounts.listAccounts);
  const [made, setMade] = useState<MadePassword>();
  const [failure, setFailure] = useState<ApiProblem>();
  const top = useRef<HTMLDivElement>(null);
  const run = async <T,>(asked: Promise<Answer<T>>): Promise<T | undefined> => {
    const answer = await asked;
    setFailure(answer.ok ? undefined : answer.problem);
    if (answer.ok) await reload();
    return answer.ok ? answer.value : undefined;
  };
  const show = (told: MadePassword | undefined) => {
    if (told === undefined) return;
    setMade(told);
    top.current?.scrollIntoView({ block: 'nearest' });
  };
  const change = async (id: string, patch: AccountPatch) => {
    await run(accounts.changeAccount(id, patch));
    // Who has given up a role is shown what is left.
    if (id === ownId) await who.reread();
  };
  return (
    <Dialog title={say.title} isOpen isWide onClose={onClose}>
      <div className="dialog-body" ref={top}>
        {made !== undefined && (
          <SecretNote
            key={made.password}
            title={say.madeFor(made.account.name, made.account.email)}
            note={say.madeNote}
            secret={made.password}
            onDone={() => setMade(undefined)}
          />
        )}
        {failure !== undefined && (
          <p className="notice error" role="alert">
            <span>
              {accountWords.notDone} {failure.detail}
            </span>
          </p>
        )}
        {problem !== undefined && (
          <ProblemNote title={say.failed} problem={problem} onRetry={() => void reload()} />
        )}
        {value === undefined && problem === undefined && <p role="status">{words.loading}</p>}
        {value !== undefined && (
          <table className="accounts">
            <thead>
              <tr>
                <th scope="col">{say.name}</th>
                <th scope="col">{say.role}</th>
                <th scope="col">{say.lastSeen}</th>
                <th scope="col">
                  <span className="hidden-from-sight">{say.actions}</span>
                </th>
              </tr>
            </thead>
            <tbody>
              {value.accounts.map((account) => (
                <AccountRow
                  key={account.id}
                  account={account}
                  isOwn={account.id === ownId}
                  onChange={(patch) => void change(account.id, patch)}
                  onNewPassword={() => void run(accounts.renewPassword(account.id)).then(show)}
                  onEndSessions={() => void run(accounts.endSessions(account.id))}
                />
              ))}
            </tbody>
          </table>
        )}
        <AddAccount
          onMade={(told) => {
            show(told);
            void reload();
          }}
        />
      </div>
    </Dialog>
  );
}

import { useState } from 'react';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import type { ApiProblem } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { formatTime } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { words } from '../words.ts';
import { describeBrowser } from './describe-browser.ts';
import { useLoaded } from './use-loaded.ts';

const say = accountWords.sessions;

/** Where the person is signed in, with a way to end each. */
export function SessionsDialog({ onClose }: { readonly onClose: () => void }) {
  const { accounts } = useSessions();
  const { value, problem, reload } = useLoaded(accounts.listSessions);
  const [failure, setFailure] = useState<ApiProblem>();
  const end = async (id: string) => {
    const answer = await accounts.endSession(id);
    setFailure(answer.ok ? undefined : answer.problem);
    await reload();
  };
  return (
    <Dialog title={say.title} isOpen onClose={onClose}>
      <div className="dialog-body">
        <p className="muted">{value?.sessions.length === 1 ? say.onlyThis : say.intro}</p>
        {problem !== undefined && (
          <ProblemNote title={say.failed} problem={problem} onRetry={() => void reload()} />
        )}
        {value === undefined && problem === undefined && <p role="status">{words.loading}</p>}
        <ul className="account-list">
          {value?.sessions.map(({ id, userAgent, createdAt, lastSeenAt, isThis }) => {
            const browser = describeBrowser(userAgent) ?? say.unknownBrowser;
            const since = formatTime(createdAt);
            return (
              <li key={id}>
                <span>
                  <strong title={userAgent}>{browser}</strong>{' '}
                  {isThis && <em className="mark">{say.here}</em>}
                  <span className="muted">
                    {say.since(since)} · {say.seen(formatTime(lastSeenAt))}
                  </span>
                </span>
                {!isThis && (
                  <button
                    type="button"
                    aria-label={say.endNamed(browser, since)}
                    onClick={() => void end(id)}
                  >
                    {say.end}
                  </button>
                )}
              </li>
            );
          })}
        </ul>
        {failure !== undefined && (
          <p className="bad" role="alert">
            {accountWords.notDone} {failure.detail}
          </p>
        )}
      </div>
    </Dialog>
  );
}

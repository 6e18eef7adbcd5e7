import { useCallback, useState } from 'react';
import type { MadeShare, ShareView } from '../../shared/wire/accounts.ts';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import type { ApiProblem } from '../session/api.ts';
import { Dialog } from '../ui/dialog.tsx';
import { formatDate, formatTime } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { words } from '../words.ts';
import { MakeShare } from './make-share.tsx';
import { SecretNote } from './secret-note.tsx';
import { useLoaded } from './use-loaded.ts';

const say = accountWords.share;

/** The links that show the open survey to people without an account. */
export function ShareDialog({ onClose }: { readonly onClose: () => void }) {
  const survey = useOpenView();
  if (survey === undefined) return null;
  return (
    <Dialog title={say.title(survey.name)} isOpen onClose={onClose}>
      <div className="dialog-body">
        <p>{say.intro}</p>
        <Shares surveyId={survey.id} />
      </div>
    </Dialog>
  );
}

function Shares({ surveyId }: { readonly surveyId: string }) {
  const { accounts } = useSessions();
  const ask = useCallback(() => accounts.listShares(surveyId), [accounts, surveyId]);
  const { value, problem, reload } = useLoaded(ask);
  const [made, setMade] = useState<MadeShare>();
  const [failure, setFailure] = useState<ApiProblem>();
  const [takenBack, setTakenBack] = useState<string>();
  const takeBack = async ({ id, label }: ShareView) => {
    const answer = await accounts.takeBackShare(surveyId, id);
    setFailure(answer.ok ? undefined : answer.problem);
    setTakenBack(answer.ok ? label : undefined);
    if (answer.ok && made?.share.id === id) setMade(undefined);
    await reload();
  };
  return (
    <>
      {made === undefined ? (
        <MakeShare
          surveyId={surveyId}
          onMade={(told) => {
            setMade(told);
            setTakenBack(undefined);
            void reload();
          }}
        />
      ) : (
        <SecretNote
          title={say.made(made.share.label, formatDate(made.share.expiresAt))}
          note={say.madeNote}
          secret={`${window.location.origin}/#share=${made.token}`}
          onDone={() => setMade(undefined)}
        />
      )}
      <h3>{say.list}</h3>
      {problem !== undefined && (
        <ProblemNote title={say.failed} problem={problem} onRetry={() => void reload()} />
      )}
      {value === undefined && problem === undefined && <p role="status">{words.loading}</p>}
      {value?.shares.length === 0 && <p className="muted">{say.none}</p>}
      <ul className="account-list">
        {value?.shares.map((share) => (
          <li key={share.id}>
            <span>
              <strong>{share.label}</strong>
              <span className="muted">{describe(share)}</span>
            </span>
            <button
              type="button"
              aria-label={say.takeBackNamed(share.label)}
              onClick={() => void takeBack(share)}
            >
              {say.takeBack}
            </button>
          </li>
        ))}
      </ul>
      {takenBack !== undefined && <p role="status">{say.takenBack(takenBack)}</p>}
      {failure !== undefined && (
        <p className="bad" role="alert">
          {accountWords.notDone} {failure.detail}
        </p>
      )}
    </>
  );
}

function describe({ expiresAt, createdBy, lastUsedAt }: ShareView): string {
  const date = formatDate(expiresAt);
  return [
    Date.parse(expiresAt) > Date.now() ? say.until(date) : say.expired(date),
    ...(createdBy === undefined ? [] : [say.by(createdBy)]),
    lastUsedAt === undefined ? say.unused : say.used(formatTime(lastUsedAt)),
  ].join(' · ');
}

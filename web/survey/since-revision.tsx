import './changes.css';
import { useEffect } from 'react';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { historyWords } from '../history-words.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { boundsOfAll } from './change-bounds.ts';
import { ChangeLists } from './change-lists.tsx';
import { describeChanges, hasChanges } from './describe-changes.ts';
import { GoBack } from './go-back.tsx';

type SinceRevisionProps = {
  readonly survey: SurveyView;
  readonly revision: number;
  readonly onBack: () => void;
};

/** What became of a survey since one of its revisions, as lists and on the map. */
export function SinceRevision({ survey: { id, revision: now }, revision, onBack }: SinceRevisionProps) {
  const { comparison: session, view } = useSessions();
  const { loaded } = useStore(session);
  // biome-ignore lint/correctness/useExhaustiveDependencies: whenever the survey changes, so does what became of it
  useEffect(() => void session.loadRevision(id, revision), [session, id, revision, now]);
  useEffect(() => session.close, [session]);
  const comparison = loaded?.status === 'ready' ? loaded.value : undefined;
  useEffect(() => {
    const bounds = comparison === undefined ? undefined : boundsOfAll(comparison);
    if (bounds !== undefined) view.goTo(bounds, view.get().sheet);
  }, [view, comparison]);
  return (
    <>
      <div className="panel-head">
        <button type="button" onClick={onBack}>
          ‹ {historyWords.back}
        </button>
        <h2>{historyWords.since(revision)}</h2>
      </div>
      {loaded?.status === 'failed' ? (
        <ProblemNote
          title={historyWords.compareFailed}
          problem={loaded.problem}
          onRetry={() => void session.loadRevision(id, revision)}
        />
      ) : comparison === undefined ? (
        <p className="empty muted" role="status">
          {historyWords.comparing}
        </p>
      ) : (
        <>
          <div className="changes-head">
            <p role="status">
              {hasChanges(comparison) ? describeChanges(comparison).join(' ') : historyWords.same}
            </p>
          </div>
          {hasChanges(comparison) ? (
            <ChangeLists comparison={comparison} />
          ) : (
            <div className="changes-fill" />
          )}
          <footer className="changes-foot">
            {revision !== now && <GoBack surveyId={id} revision={revision} />}
          </footer>
        </>
      )}
    </>
  );
}

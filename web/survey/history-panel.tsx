import './history.css';
import { useCallback, useEffect, useState } from 'react';
import type { RuleName } from '../../shared/placement/rules.ts';
import type { LogEntry } from '../../shared/scheme/scheme.ts';
import type { RevisionView } from '../../shared/wire/history.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { useRights } from '../app/use-rights.ts';
import { describeCommands, describeRule } from '../design/describe-command.ts';
import { describeChange, historyWords } from '../history-words.ts';
import { TunnelLink } from '../ranking/tunnel-link.tsx';
import { useNames } from '../ranking/use-names.ts';
import type { ApiProblem } from '../session/api.ts';
import { formatTime } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { words } from '../words.ts';
import { GoBack } from './go-back.tsx';
import { SinceRevision } from './since-revision.tsx';

/** Of edits that were saved together, so many are told. */
const EDITS_TOLD = 4;

/** Who did what when, and going back to any of it. */
export function HistoryPanel() {
  const { view } = useSessions();
  const { mayEdit } = useRights();
  const survey = useOpenView();
  const [compared, setCompared] = useState<number>();
  const { revisions, problem, more, reload } = useHistory(survey?.id, survey?.revision);
  if (survey !== undefined && compared !== undefined) {
    return <SinceRevision survey={survey} revision={compared} onBack={() => setCompared(undefined)} />;
  }
  return (
    <>
      <div className="panel-head">
        <button type="button" onClick={view.openTable}>
          ‹ {words.tunnel.back}
        </button>
        <h2>{historyWords.title}</h2>
      </div>
      <section className="history">
        <p className="muted">{historyWords.intro}</p>
        {problem !== undefined && (
          <ProblemNote title={historyWords.failed} problem={problem} onRetry={reload} />
        )}
        {revisions === undefined && problem === undefined && (
          <p className="muted" role="status">
            {words.loading}
          </p>
        )}
        {survey !== undefined && revisions !== undefined && (
          <ol>
            {revisions.map((revision) => (
              <li key={revision.revision}>
                <Entry revision={revision} />
                {revision.revision === survey.revision ? (
                  <span className="muted">{historyWords.now}</span>
                ) : (
                  <div className="history-steps">
                    <button
                      type="button"
                      className="quiet"
                      aria-label={historyWords.compareNamed(revision.revision)}
                      onClick={() => setCompared(revision.revision)}
                    >
                      {historyWords.compare}
                    </button>
                    {mayEdit && <GoBack surveyId={survey.id} revision={revision.revision} />}
                  </div>
                )}
              </li>
            ))}
          </ol>
        )}
        {more !== undefined && (
          <button type="button" onClick={more}>
            {historyWords.more}
          </button>
        )}
      </section>
    </>
  );
}

function Entry({ revision: { revision, at, by, changes, edits } }: { readonly revision: RevisionView }) {
  const nameOf = useNames();
  return (
    <div>
      <span className="history-when muted">
        {historyWords.revision(revision)} <time dateTime={at}>{formatTime(at)}</time>
        {by !== undefined && ` ${historyWords.by(by)}`}
      </span>
      {changes.map((change) => (
        <p key={change.kind}>
          {describeChange(change, (rule, value) => describeRule(rule as RuleName, value))}
        </p>
      ))}
      {/* Where the survey was gone back, the designs followed: it is said already. */}
      {!changes.some(({ kind }) => kind === 'goBack') &&
        edits.map(({ complexId, entries }) => (
          <p key={complexId}>
            <TunnelLink id={complexId} name={nameOf(complexId)} />: {describeEdits(entries as LogEntry[])}
          </p>
        ))}
    </div>
  );
}

function describeEdits(entries: readonly LogEntry[]): string {
  const told = describeCommands(entries.slice(0, EDITS_TOLD));
  const left = entries.length - EDITS_TOLD;
  return left > 0 ? `${told} ${historyWords.moreEdits(left)}` : told;
}

/** The history from the newest on, page by page; read again when the survey changes. */
function useHistory(id: string | undefined, revision: number | undefined) {
  const { api } = useSessions();
  const [shown, setShown] = useState<{ revisions: readonly RevisionView[]; before?: number | undefined }>();
  const [problem, setProblem] = useState<ApiProblem>();
  const load = useCallback(
    async (before?: number) => {
      if (id === undefined) return;
      const answer = await api.history(id, before);
      if (!answer.ok) return setProblem(answer.problem);
      setProblem(undefined);
      const page = answer.value;
      setShown((known) => ({
        revisions: before === undefined ? page.revisions : [...(known?.revisions ?? []), ...page.revisions],
        before: page.before,
      }));
    },
    [api, id],
  );
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision is a new entry
  useEffect(() => void load(), [load, revision]);
  const before = shown?.before;
  return {
    revisions: shown?.revisions,
    problem,
    reload: () => void load(),
    more: before === undefined ? undefined : () => void load(before),
  };
}

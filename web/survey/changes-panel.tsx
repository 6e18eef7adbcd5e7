import './changes.css';
import { useEffect } from 'react';
import type { Comparison } from '../../shared/wire/comparison.ts';
import { useSessions } from '../app/sessions.ts';
import { useOpenView } from '../app/use-open-view.ts';
import { useRights } from '../app/use-rights.ts';
import type { Shown } from '../session/comparison-session.ts';
import { formatDate } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { boundsOfAll } from './change-bounds.ts';
import { ChangeLists } from './change-lists.tsx';
import { ChangeNotes } from './change-notes.tsx';
import { describeChanges, hasChanges } from './describe-changes.ts';

/** What a newer extract would change: looked at, then adopted, discarded or left for later. Nothing moves before. */
export function ChangesPanel() {
  const { comparison: session, view } = useSessions();
  const { loaded } = useStore(session);
  const survey = useOpenView();
  const id = survey?.id;
  const extractId = survey?.candidate?.extractId;
  useEffect(() => {
    if (id !== undefined && extractId !== undefined) void session.load(id);
  }, [session, id, extractId]);
  useEffect(() => session.close, [session]);
  const comparison = loaded?.status === 'ready' && isOfExtract(loaded.value) ? loaded.value : undefined;
  useEffect(() => {
    const bounds = comparison === undefined ? undefined : boundsOfAll(comparison);
    if (bounds !== undefined) view.goTo(bounds, view.get().sheet);
  }, [view, comparison]);
  return (
    <>
      <div className="panel-head">
        <button type="button" onClick={view.openTable}>
          ‹ {words.tunnel.back}
        </button>
        <h2>{words.changes.title}</h2>
      </div>
      {survey !== undefined && extractId === undefined ? (
        <NoCandidate />
      ) : loaded?.status === 'failed' ? (
        <ProblemNote
          title={words.changes.failed}
          problem={loaded.problem}
          onRetry={() => id !== undefined && void session.load(id)}
        />
      ) : comparison === undefined ? (
        <p className="empty muted" role="status">
          {words.changes.loading}
        </p>
      ) : (
        <Compared comparison={comparison} />
      )}
    </>
  );
}

/** The history shows comparisons too, of revisions. */
function isOfExtract(comparison: Shown): comparison is Comparison {
  return comparison.extractId !== undefined;
}

function NoCandidate() {
  const { view } = useSessions();
  const { mayEdit } = useRights();
  return (
    <div className="empty">
      <p>{words.changes.none}</p>
      {mayEdit && (
        <button type="button" onClick={() => view.patch({ isUpdateOpen: true })}>
          {words.update.action}
        </button>
      )}
    </div>
  );
}

function Compared({ comparison }: { readonly comparison: Comparison }) {
  const { comparison: session } = useSessions();
  const { hasChanged } = useStore(session);
  const { before, after } = comparison;
  return (
    <>
      {hasChanged && (
        <p className="notice warning" role="alert">
          {words.changes.hasChanged}
        </p>
      )}
      <div className="changes-head">
        <dl>
          <dt>{words.changes.before}</dt>
          <dd>{describeExtract(before)}</dd>
          <dt>{words.changes.after}</dt>
          <dd>{describeExtract(after)}</dd>
        </dl>
        <p role="status">
          {hasChanges(comparison) ? describeChanges(comparison).join(' ') : words.changes.nothing}
        </p>
      </div>
      <ChangeNotes notes={comparison.notes} />
      {hasChanges(comparison) ? <ChangeLists comparison={comparison} /> : <div className="changes-fill" />}
      <ChangeDecision comparison={comparison} />
    </>
  );
}

/** Adopt, discard, or later. */
function ChangeDecision({ comparison }: { readonly comparison: Comparison }) {
  const { comparison: session, view } = useSessions();
  const { isWorking, problem } = useStore(session);
  const { mayEdit } = useRights();
  const { extractId, after } = comparison;
  const adopt = async () => {
    const date = after.timestamp === undefined ? undefined : formatDate(after.timestamp);
    if (await session.adopt(words.changes.adopted(after.name, date))) view.openTable();
  };
  const discard = async () => {
    if (await session.discard()) view.openTable();
  };
  return (
    <footer className="changes-foot">
      {problem !== undefined && (
        <p className="bad" role="alert">
          {problem.detail}
        </p>
      )}
      {mayEdit && (
        <>
          <button type="button" className="primary" disabled={isWorking} onClick={() => void adopt()}>
            {isWorking ? words.changes.adopting : words.changes.adopt}
          </button>
          <button type="button" disabled={isWorking} onClick={() => void discard()}>
            {words.changes.discard}
          </button>
        </>
      )}
      <button
        type="button"
        onClick={() => {
          view.patch({ laterExtract: extractId });
          view.openTable();
        }}
      >
        {words.changes.later}
      </button>
    </footer>
  );
}

function describeExtract({ name, timestamp }: Comparison['before']): string {
  return `${name} · ${timestamp === undefined ? words.changes.undated : words.header.dataOf(formatDate(timestamp))}`;
}

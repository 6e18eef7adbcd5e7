import { useState } from 'react';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { useRights } from '../app/use-rights.ts';
import { historyWords } from '../history-words.ts';
import { formatDate } from '../ui/format.ts';
import { Menu } from '../ui/menu.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

/** Which survey is open, and the others: name, source, date; remove. */
export function SurveyPicker() {
  const { surveys, view, who } = useSessions();
  const { mayEdit, maySeeHistory } = useRights();
  const { mode } = useStore(who).who;
  const { surveys: list, openId } = useStore(surveys);
  const all = list.status === 'ready' ? list.value : [];
  const open = all.find((survey) => survey.id === openId);
  const [problem, setProblem] = useState<string>();
  return (
    <Menu
      className="picker"
      title={words.header.surveys}
      label={
        <>
          <span className="hidden-from-sight">{words.header.surveys}: </span>
          <strong>{open?.name ?? words.header.noSurvey}</strong>
          {open !== undefined && <span className="picker-source muted">{describe(open)}</span>}
          <span aria-hidden="true">▾</span>
        </>
      }
    >
      {(close) => (
        <>
          <ul className="picker-list">
            {all.map((survey) => (
              <SurveyEntry
                key={survey.id}
                survey={survey}
                isOpen={survey.id === openId}
                close={close}
                onProblem={setProblem}
              />
            ))}
            {all.length === 0 && <li className="muted picker-none">{words.start.title}</li>}
            {problem !== undefined && (
              <li role="alert" className="picker-none">
                {problem}
              </li>
            )}
          </ul>
          {open?.status === 'ready' && maySeeHistory && (
            <div className="picker-actions">
              {mayEdit && (
                <>
                  <button
                    type="button"
                    onClick={() => {
                      close();
                      view.patch({ isUpdateOpen: true });
                    }}
                  >
                    {words.update.action}
                  </button>
                  <span className="muted">{words.update.actionNote(open.name)}</span>
                </>
              )}
              <button
                type="button"
                onClick={() => {
                  close();
                  view.openPanel('history');
                }}
              >
                {historyWords.action}
              </button>
              <span className="muted">{historyWords.actionNote(open.name)}</span>
              {mayEdit && mode === 'accounts' && (
                <>
                  <button
                    type="button"
                    onClick={() => {
                      close();
                      view.patch({ dialog: 'share' });
                    }}
                  >
                    {accountWords.share.action}
                  </button>
                  <span className="muted">{accountWords.share.actionNote(open.name)}</span>
                </>
              )}
            </div>
          )}
        </>
      )}
    </Menu>
  );
}

type EntryProps = {
  readonly survey: SurveyView;
  readonly isOpen: boolean;
  readonly close: () => void;
  readonly onProblem: (text: string | undefined) => void;
};

function SurveyEntry({ survey, isOpen, close, onProblem }: EntryProps) {
  const { surveys, view } = useSessions();
  const { mayEdit } = useRights();
  const remove = async () => {
    if (!window.confirm(words.header.removeAsk(survey.name))) return;
    const problem = await surveys.remove(survey.id);
    onProblem(problem?.detail);
    if (problem === undefined && isOpen) {
      const next = surveys.get().surveys;
      const other = next.status === 'ready' ? next.value.find((one) => one.status === 'ready') : undefined;
      if (other !== undefined) view.openSurvey(other.id);
    }
  };
  return (
    <li>
      <button
        type="button"
        className="quiet"
        aria-current={isOpen}
        disabled={survey.status !== 'ready'}
        onClick={() => {
          view.openSurvey(survey.id);
          close();
        }}
      >
        <strong>{survey.name}</strong>
        <span className="muted">{describe(survey)}</span>
      </button>
      {mayEdit && !survey.demo && (
        <button
          type="button"
          className="quiet"
          aria-label={words.header.removeNamed(survey.name)}
          onClick={() => void remove()}
        >
          {words.header.remove}
        </button>
      )}
    </li>
  );
}

function describe(survey: SurveyView): string {
  if (survey.status === 'working') return words.header.working;
  if (survey.status === 'refused') return words.header.refused;
  const { source, counts } = survey;
  const parts = [
    ...(source === undefined ? [] : [source.name]),
    ...(source?.timestamp === undefined ? [] : [words.header.dataOf(formatDate(source.timestamp))]),
    ...(counts === undefined ? [] : [words.header.tunnels(counts.complexes)]),
  ];
  return parts.join(' · ');
}

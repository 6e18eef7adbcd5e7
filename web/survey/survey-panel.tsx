import './survey.css';
import { accountWords } from '../account-words.ts';
import { useSessions } from '../app/sessions.ts';
import { useRights } from '../app/use-rights.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { TunnelTable } from './tunnel-table.tsx';

/** The panel without a tunnel: the table, or why there is none. */
export function SurveyPanel() {
  const { surveys, view, imports } = useSessions();
  const { surveys: list, open } = useStore(surveys);
  const { address } = useStore(view);
  const { phase } = useStore(imports);
  const { mayEdit } = useRights();
  if (list.status === 'failed') {
    return (
      <ProblemNote title={words.start.failed} problem={list.problem} onRetry={() => void surveys.refresh()} />
    );
  }
  if (open?.status === 'failed') {
    const retry = () => address.survey !== undefined && surveys.open(address.survey);
    return <ProblemNote title={words.start.failed} problem={open.problem} onRetry={retry} />;
  }
  if (open?.status === 'ready') return <TunnelTable survey={open.value} />;
  const isComing = list.status === 'loading' || open?.status === 'loading' || phase === 'working';
  if (isComing) {
    return (
      <p className="empty muted" role="status">
        {words.loading}
      </p>
    );
  }
  const say = mayEdit ? words.start : accountWords.start;
  const isUnknown = address.survey !== undefined && !list.value.some((one) => one.id === address.survey);
  return (
    <div className="empty">
      <h2>{isUnknown ? words.start.unknownTitle : words.start.title}</h2>
      <p>{isUnknown ? say.unknown : say.text}</p>
      {mayEdit && (
        <button type="button" className="primary" onClick={() => view.patch({ isImportOpen: true })}>
          {words.start.import}
        </button>
      )}
    </div>
  );
}

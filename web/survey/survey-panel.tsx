import './survey.css';
import { useSessions } from '../app/sessions.ts';
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
  const isUnknown = address.survey !== undefined && !list.value.some((one) => one.id === address.survey);
  return (
    <div className="empty">
      <h2>{isUnknown ? words.start.unknownTitle : words.start.title}</h2>
      <p>{isUnknown ? words.start.unknown : words.start.text}</p>
      <button type="button" className="primary" onClick={() => view.patch({ isImportOpen: true })}>
        {words.start.import}
      </button>
    </div>
  );
}

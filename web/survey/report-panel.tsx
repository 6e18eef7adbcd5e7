import './report.css';
import { useCallback, useEffect, useState } from 'react';
import type { ImportReport } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Loadable } from '../session/survey-session.ts';
import { formatNumber } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

type Reason = ImportReport['reasons'][number];
type Item = Reason['items'][number];

/** So many entries of a reason are shown at a time. */
const PAGE = 50;
/** Half the side of the piece of map around an entry, degrees. */
const AROUND_DEG = 0.0015;

/** What the import dropped or assumed, by reason, with links and places. */
export function ReportPanel() {
  const { api, surveys, view } = useSessions();
  const { openId } = useStore(surveys);
  const [report, setReport] = useState<Loadable<ImportReport>>({ status: 'loading' });
  const load = useCallback(async () => {
    if (openId === undefined) return;
    setReport({ status: 'loading' });
    const answer = await api.report(openId);
    setReport(
      answer.ok ? { status: 'ready', value: answer.value } : { status: 'failed', problem: answer.problem },
    );
  }, [api, openId]);
  useEffect(() => void load(), [load]);
  return (
    <>
      <div className="panel-head">
        <button type="button" onClick={view.openTable}>
          ‹ {words.tunnel.back}
        </button>
        <h2>{words.report.title}</h2>
      </div>
      {report.status === 'failed' ? (
        <ProblemNote title={words.report.failed} problem={report.problem} onRetry={() => void load()} />
      ) : report.status === 'loading' ? (
        <p className="empty muted" role="status">
          {words.loading}
        </p>
      ) : (
        <Reasons reasons={report.value.reasons} />
      )}
    </>
  );
}

function Reasons({ reasons }: { readonly reasons: readonly Reason[] }) {
  const total = reasons.reduce((sum, reason) => sum + reason.count, 0);
  if (total === 0) return <p className="empty">{words.report.none}</p>;
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="report" tabIndex={0} aria-label={words.report.title}>
      <p className="muted">
        {words.report.intro} {words.report.total(total)}.
      </p>
      {reasons.map((reason) => (
        <details key={reason.code}>
          <summary>
            <span className={`severity ${reason.severity}`}>{words.report.severities[reason.severity]}</span>
            <span className="reason-title">{reason.title}</span>
            <span className="number">{formatNumber(reason.count)}</span>
          </summary>
          <Items items={reason.items} />
        </details>
      ))}
    </section>
  );
}

function Items({ items }: { readonly items: readonly Item[] }) {
  const [shownCount, setShownCount] = useState(PAGE);
  return (
    <ul>
      {items.slice(0, shownCount).map((item) => (
        <ReportItem key={item.id} item={item} />
      ))}
      {items.length > shownCount && (
        <li>
          <button type="button" onClick={() => setShownCount(shownCount + PAGE)}>
            {words.report.more(Math.min(PAGE, items.length - shownCount))}
          </button>
        </li>
      )}
    </ul>
  );
}

function ReportItem({ item }: { readonly item: Item }) {
  const { view, surveys } = useSessions();
  const { open } = useStore(surveys);
  const { at, link, subject } = item;
  const rows = open?.status === 'ready' ? open.value.rows : [];
  const tunnel = subject.kind === 'complex' ? rows.find((row) => row.id === subject.id) : undefined;
  const name =
    tunnel?.name ??
    (subject.kind === 'row' ? rankingWords.evidence.line(subject.id) : `${subject.kind} ${subject.id}`);
  return (
    <li>
      <span className="item-name">
        {link === undefined ? (
          name
        ) : (
          <a href={link} target="_blank" rel="noopener noreferrer" title={words.report.openOsm(name)}>
            {name}
          </a>
        )}
      </span>
      <span className="item-detail">{item.detail}</span>
      {at !== undefined && (
        <button
          type="button"
          className="link"
          aria-label={words.report.showNamed(name)}
          onClick={() => {
            const [lon, lat] = at;
            view.patch({ spot: [lon, lat] });
            view.goTo([lon - AROUND_DEG, lat - AROUND_DEG, lon + AROUND_DEG, lat + AROUND_DEG]);
          }}
        >
          {words.report.showOnMap}
        </button>
      )}
    </li>
  );
}

import { useEffect, useState } from 'react';
import type { EvidenceReport } from '../../shared/wire/ranking.ts';
import type { SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { useNames } from '../ranking/use-names.ts';
import { rankingWords } from '../ranking-words.ts';
import type { EvidenceKind } from '../session/api.ts';
import type { Loadable } from '../session/survey-session.ts';
import { formatNumber } from '../ui/format.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { words } from '../words.ts';
import { MatchedBeacons } from './matched-beacons.tsx';

const say = rankingWords.evidence;

type MatchReportProps = { readonly kind: EvidenceKind; readonly survey: SurveyView };

/** What became of a file's rows: those that could not be used as they stand, and where each beacon was found. */
export function MatchReport({ kind, survey }: MatchReportProps) {
  const { loaded, retry } = useEvidenceReport(survey);
  if (loaded.status === 'loading') return <p className="muted">{words.loading}</p>;
  if (loaded.status === 'failed') {
    return <ProblemNote title={say.reportFailed} problem={loaded.problem} onRetry={retry} />;
  }
  const { traffic, existing } = loaded.value;
  const own = kind === 'traffic' ? traffic : existing;
  if (own === undefined) return null;
  return (
    <>
      {kind === 'existing' && existing !== undefined && <MatchedBeacons {...existing} />}
      {own.rows.length === 0 ? (
        <p className="muted">{say.reportNone}</p>
      ) : (
        <RowReport kind={kind} rows={own.rows} rowCount={own.rowCount} />
      )}
    </>
  );
}

type Row = NonNullable<EvidenceReport['traffic']>['rows'][number];
type RowReportProps = {
  readonly kind: EvidenceKind;
  readonly rows: readonly Row[];
  readonly rowCount: number;
};

/** The report tells tunnels by their ids. */
const TUNNEL_ID = /\bt\d+\b/g;

function RowReport({ kind, rows, rowCount }: RowReportProps) {
  const nameOf = useNames();
  const groups = new Map<string, Row[]>();
  for (const row of rows) groups.set(row.code, [...(groups.get(row.code) ?? []), row]);
  return (
    <div className="report match-report" data-testid={`report-${kind}`}>
      <h4>{say.report}</h4>
      {[...groups].map(([code, own]) => (
        <details key={code}>
          <summary>
            <span className={`severity ${own[0]?.severity}`}>
              {words.report.severities[own[0]?.severity ?? 'info']}
            </span>
            <span className="reason-title">{own[0]?.title}</span>
            <span className="number">{formatNumber(own.length)}</span>
          </summary>
          <ul>
            {own.map(({ line, detail }) => (
              <li key={`${line} ${detail}`}>
                <span className="item-name">{say.line(line)}</span>
                <span className="item-detail">{detail.replace(TUNNEL_ID, nameOf)}</span>
              </li>
            ))}
          </ul>
        </details>
      ))}
      {rowCount > rows.length && <p className="muted">{say.first(rows.length, rowCount)}</p>}
    </div>
  );
}

/** Read again whenever the survey changes: another network matches otherwise. */
function useEvidenceReport({ id, revision }: SurveyView) {
  const { api } = useSessions();
  const [attempt, setAttempt] = useState(0);
  const [loaded, setLoaded] = useState<Loadable<EvidenceReport>>({ status: 'loading' });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision or attempt asks the same again
  useEffect(() => {
    let isOver = false;
    void api.evidence(id).then((answer) => {
      if (isOver) return;
      setLoaded(
        answer.ok ? { status: 'ready', value: answer.value } : { status: 'failed', problem: answer.problem },
      );
    });
    return () => {
      isOver = true;
    };
  }, [api, id, revision, attempt]);
  return { loaded, retry: () => setAttempt(attempt + 1) };
}

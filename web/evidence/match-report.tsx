import { useEffect, useState } from 'react';
import type { ImportReport, SurveyView } from '../../shared/wire/survey.ts';
import { useSessions } from '../app/sessions.ts';
import { rankingWords } from '../ranking-words.ts';
import type { EvidenceKind } from '../session/api.ts';
import type { Loadable } from '../session/survey-session.ts';
import { ReportReasons } from '../survey/report-panel.tsx';
import { ProblemNote } from '../ui/problem.tsx';
import { words } from '../words.ts';

const say = rankingWords.evidence;

type MatchReportProps = { readonly kind: EvidenceKind; readonly survey: SurveyView };

/** The rows of a file that could not be used, or not quite: each with its line, the reason and distances. */
export function MatchReport({ kind, survey }: MatchReportProps) {
  const { api } = useSessions();
  const { id, revision } = survey;
  const [attempt, setAttempt] = useState(0);
  const [report, setReport] = useState<Loadable<ImportReport>>({ status: 'loading' });
  // biome-ignore lint/correctness/useExhaustiveDependencies: a new revision or attempt asks the same again
  useEffect(() => {
    let isOver = false;
    void api.report(id).then((answer) => {
      if (isOver) return;
      setReport(
        answer.ok ? { status: 'ready', value: answer.value } : { status: 'failed', problem: answer.problem },
      );
    });
    return () => {
      isOver = true;
    };
  }, [api, id, revision, attempt]);
  if (report.status === 'loading') return <p className="muted">{words.loading}</p>;
  if (report.status === 'failed') {
    return (
      <ProblemNote
        title={say.reportFailed}
        problem={report.problem}
        onRetry={() => setAttempt(attempt + 1)}
      />
    );
  }
  const reasons = report.value.reasons.filter(({ code }) => code.startsWith(`${kind}-`));
  if (reasons.length === 0) return <p className="muted">{say.reportNone}</p>;
  return (
    <div className="report match-report" data-testid={`report-${kind}`}>
      <h4>{say.report}</h4>
      <ReportReasons reasons={reasons} />
    </div>
  );
}

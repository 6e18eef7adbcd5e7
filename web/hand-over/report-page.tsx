import './report/report.css';
import './report/report-map.css';
import { useEffect } from 'react';
import { useSessions } from '../app/sessions.ts';
import { reportWords as say } from '../report-words.ts';
import { ProblemNote } from '../ui/problem.tsx';
import { ReportCautions } from './report/report-cautions.tsx';
import { ReportHead } from './report/report-head.tsx';
import { ReportMap } from './report/report-map.tsx';
import { ReportMethod } from './report/report-method.tsx';
import { ReportProgramme } from './report/report-programme.tsx';
import { ReportSummary } from './report/report-summary.tsx';
import { ReportTable } from './report/report-table.tsx';
import { toPageRule } from './report/to-page-rule.ts';
import { type ReportData, useReport } from './report/use-report.ts';

/** The report to print: on screen as it will be on paper, with a bar above it that is not printed. */
export default function ReportPage() {
  const { view } = useSessions();
  const { data, problem, reload } = useReport();
  return (
    <div className="report-desk">
      <header className="report-bar">
        <button type="button" onClick={() => view.openTable()}>
          {say.back}
        </button>
        <p className="muted">{say.hint}</p>
        <button
          type="button"
          className="primary"
          disabled={data === undefined || data.rows.length === 0}
          onClick={() => window.print()}
        >
          {say.print}
        </button>
      </header>
      <main className="report" aria-busy={data === undefined}>
        {problem !== undefined ? (
          <ProblemNote title={say.failed} problem={problem} onRetry={() => void reload()} />
        ) : data === undefined ? (
          <p role="status">{say.loading}</p>
        ) : data.rows.length === 0 ? (
          <p role="alert">{say.none}</p>
        ) : (
          <Report data={data} />
        )}
      </main>
    </div>
  );
}

function Report({ data }: { readonly data: ReportData }) {
  const { survey } = data;
  const attribution = survey.source?.attribution ?? '';
  useEffect(() => {
    // Only as long as the report is shown: other panels are printed with the browser's own margins.
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(toPageRule(say.page(survey.name), attribution));
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    return () => {
      document.adoptedStyleSheets = document.adoptedStyleSheets.filter((one) => one !== sheet);
    };
  }, [survey.name, attribution]);
  return (
    <article data-testid="print-report">
      <ReportHead data={data} />
      <ReportSummary data={data} />
      <ReportMap data={data} />
      <ReportTable rows={data.rows} />
      <ReportProgramme survey={survey} />
      <ReportMethod survey={survey} rows={data.rows} />
      <ReportCautions survey={survey} />
    </article>
  );
}

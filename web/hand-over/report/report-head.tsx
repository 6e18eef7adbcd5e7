import { reportWords } from '../../report-words.ts';
import { formatDate } from '../../ui/format.ts';
import type { ReportData } from './use-report.ts';

const say = reportWords.facts;

/** What it is about: title, date, edition of the map data, which tunnels. */
export function ReportHead({ data: { survey, rows, allCount } }: { readonly data: ReportData }) {
  const { source } = survey;
  const facts: readonly (readonly [string, string])[] = [
    [say.date, formatDate(new Date().toISOString())],
    [
      say.edition,
      source?.timestamp === undefined ? say.editionUnknown(source?.name ?? '') : formatDate(source.timestamp),
    ],
    [say.source, source?.attribution ?? ''],
    [say.scope, rows.length === allCount ? say.all(allCount) : say.some(rows.length, allCount)],
    [say.revision, String(survey.revision)],
  ];
  return (
    <header className="report-head">
      <p className="report-kicker">{reportWords.kicker}</p>
      <h1>{reportWords.title(survey.name)}</h1>
      <dl>
        {facts.map(([name, value]) => (
          <div key={name}>
            <dt>{name}</dt>
            <dd>{value}</dd>
          </div>
        ))}
      </dl>
    </header>
  );
}

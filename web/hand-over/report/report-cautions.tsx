import { GENERATOR } from '../../../shared/export/make-collection.ts';
import type { SurveyView } from '../../../shared/wire/survey.ts';
import { reportWords } from '../../report-words.ts';

const { cautions, licence } = reportWords;

/** What has to be minded, and who has to be named. */
export function ReportCautions({ survey: { source } }: { readonly survey: SurveyView }) {
  return (
    <>
      <section aria-labelledby="report-cautions" className="report-cautions">
        <h2 id="report-cautions">{cautions.title}</h2>
        <ul>
          {cautions.lines.map((line) => (
            <li key={line}>{line}</li>
          ))}
        </ul>
      </section>
      <section aria-labelledby="report-licence" className="report-licence">
        <h2 id="report-licence">{licence.title}</h2>
        <p>
          {source?.objectUrl === undefined ? `${source?.attribution ?? ''}.` : licence.osm}{' '}
          {licence.made(GENERATOR)}
        </p>
      </section>
    </>
  );
}

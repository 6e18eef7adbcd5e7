import type { SurveyView } from '../../../shared/wire/survey.ts';
import { useSessions } from '../../app/sessions.ts';
import { useNames } from '../../ranking/use-names.ts';
import { reportWords } from '../../report-words.ts';
import { formatNumber, formatPerDay, formatRough } from '../../ui/format.ts';
import { useStore } from '../../ui/use-store.ts';

const say = reportWords.programme;

/** Which tunnels in which year, where a programme was planned. */
export function ReportProgramme({ survey }: { readonly survey: SurveyView }) {
  const { programme } = useSessions();
  const { surveyId, planned } = useStore(programme);
  const nameOf = useNames();
  if (planned === undefined || surveyId !== survey.id) return null;
  const { answer } = planned;
  const { best } = answer;
  const budget = formatNumber(answer.budgetPerYear);
  return (
    <section aria-labelledby="report-programme">
      <h2 id="report-programme">{say.title}</h2>
      <p>
        {say.terms(answer.years, budget, formatNumber(answer.nightsPerYear))}{' '}
        {answer.isProven ? say.proven : say.bound(formatRough(answer.boundDrivers))} {say.whole}{' '}
        {answer.revision !== survey.revision && <strong>{say.stale}</strong>}
      </p>
      <table className="report-table">
        <thead>
          <tr>
            <th scope="col">{say.columns.year}</th>
            <th scope="col">{say.columns.tunnels}</th>
            {([say.columns.cost, say.columns.nights, say.columns.avoided] as const).map((name) => (
              <th scope="col" className="number" key={name}>
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {best.years.map(({ year, ids, cost, nights, avoidedPerDay }) => (
            <tr key={year}>
              <th scope="row">{year}</th>
              <td>{ids.length === 0 ? say.nothing : ids.map(nameOf).join(', ')}</td>
              <td className="number">{formatNumber(cost)}</td>
              <td className="number">{formatNumber(nights)}</td>
              <td className="number">{formatPerDay(avoidedPerDay)}</td>
            </tr>
          ))}
          <tr className="report-sum">
            <th scope="row" colSpan={2}>
              {say.sum}
            </th>
            <td className="number">{formatNumber(best.cost)}</td>
            <td className="number">{formatNumber(best.nights)}</td>
            <td />
          </tr>
        </tbody>
      </table>
    </section>
  );
}

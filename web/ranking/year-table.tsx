import type { PlanView, ProgrammeView } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { TunnelLink } from './tunnel-link.tsx';
import { useNames } from './use-names.ts';

const say = rankingWords.programme.years;

type YearTableProps = {
  readonly plan: PlanView;
  /** Whose limits hold. */
  readonly answer: Pick<ProgrammeView, 'budgetPerYear' | 'nightsPerYear'>;
  readonly caption: string;
  readonly testId: string;
};

/** A plan: one line for each year, with what it spends of what it may. */
export function YearTable({ plan, answer, caption, testId }: YearTableProps) {
  const nameOf = useNames();
  return (
    <table className="plan-table" data-testid={testId}>
      <caption>{caption}</caption>
      <thead>
        <tr>
          <th scope="col">{say.year}</th>
          <th scope="col">{say.tunnels}</th>
          <th scope="col" className="number">
            {say.cost} <span className="muted">{say.of(formatNumber(answer.budgetPerYear))}</span>
          </th>
          <th scope="col" className="number">
            {say.nights} <span className="muted">{say.of(formatNumber(answer.nightsPerYear))}</span>
          </th>
          <th scope="col" className="number">
            {say.avoided}
          </th>
        </tr>
      </thead>
      <tbody>
        {plan.years.map(({ year, ids, cost, nights, avoidedPerDay }) => (
          <tr key={year}>
            <th scope="row">{year}</th>
            <td>
              {ids.length === 0 ? (
                <span className="muted">{say.nothing}</span>
              ) : (
                <ul className="plan-names">
                  {ids.map((id) => (
                    <li key={id}>
                      <TunnelLink id={id} name={nameOf(id)} />
                    </li>
                  ))}
                </ul>
              )}
            </td>
            <td className="number" data-testid="year-cost">
              {formatNumber(cost)}
            </td>
            <td className="number" data-testid="year-nights">
              {formatNumber(nights)}
            </td>
            <td className="number">{formatPerDay(avoidedPerDay)}</td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={2}>
            {say.sum}
          </th>
          <td className="number">{formatNumber(plan.cost)}</td>
          <td className="number">{formatNumber(plan.nights)}</td>
          <td />
        </tr>
      </tfoot>
    </table>
  );
}

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
  /** The years look as on the map. */
  readonly hasMarks?: boolean;
};

/** A plan: one line for each year, with what it spends of what it may. */
export function YearTable({ plan, answer, caption, testId, hasMarks = false }: YearTableProps) {
  const nameOf = useNames();
  const count = plan.years.reduce((sum, { ids }) => sum + ids.length, 0);
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
            <th scope="row">
              <YearMark year={year} isUsed={ids.length > 0 && hasMarks} />
            </th>
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
          <th scope="row">{say.sum}</th>
          <td data-testid="sum-tunnels">{say.count(count)}</td>
          <td className="number">{formatNumber(plan.cost)}</td>
          <td className="number">{formatNumber(plan.nights)}</td>
          <td className="number">{formatPerDay(plan.years.at(-1)?.avoidedPerDay ?? 0)}</td>
        </tr>
      </tfoot>
    </table>
  );
}

/** A year's number, as the map has it where it equips a tunnel. */
function YearMark({ year, isUsed }: { readonly year: number; readonly isUsed: boolean }) {
  return isUsed ? <span className={`year-mark tone-${Math.min(year, TONES)}`}>{year}</span> : year;
}

/** So many colours there are (ranking.css, as on the map). */
const TONES = 5;

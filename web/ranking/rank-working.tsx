import type { RankingRow } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { RankChart } from './rank-chart.tsx';
import { TermTable } from './term-table.tsx';
import { useNames } from './use-names.ts';

const say = rankingWords.ranking;

/** How a tunnel's rank came about: every term of it, and what would move it. */
export function RankWorking({ row }: { readonly row: RankingRow }) {
  const nameOf = useNames();
  const why = (reached: RankingRow['best']) =>
    reached.by === undefined ? undefined : say.supposition(reached.by, nameOf);
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="rank-working" tabIndex={0} aria-label={say.working(nameOf(row.id))}>
      <RankChart row={row} />
      <ul>
        <li>{say.best(row.best.rank, why(row.best))}</li>
        <li>{say.worst(row.worst.rank, why(row.worst))}</li>
        <li>{say.outage(formatNumber(row.outageS))}</li>
      </ul>
      <TermTable row={row} />
      <table>
        <caption>{say.costTerms.caption}</caption>
        <thead>
          <tr>
            <th scope="col">{say.costTerms.item}</th>
            <th scope="col" className="number">
              {say.costTerms.count}
            </th>
            <th scope="col" className="number">
              {say.costTerms.each}
            </th>
            <th scope="col" className="number">
              {say.costTerms.cost}
            </th>
          </tr>
        </thead>
        <tbody>
          {row.costTerms.map(({ name, count, each, cost }) => (
            <tr key={name}>
              <td>{say.costTerms.names[name]}</td>
              <td className="number">{formatNumber(count)}</td>
              <td className="number">{formatNumber(each, each % 1 === 0 ? 0 : 2)}</td>
              <td className="number">{formatNumber(cost)}</td>
            </tr>
          ))}
        </tbody>
        <tfoot>
          <tr>
            <th scope="row" colSpan={3}>
              {say.terms.sum}
            </th>
            <td className="number">{formatNumber(row.cost)}</td>
          </tr>
        </tfoot>
      </table>
      <ScoreTerms row={row} />
    </section>
  );
}

function ScoreTerms({ row }: { readonly row: RankingRow }) {
  const { score } = say;
  const perThousand = formatNumber(row.avoidedPerCost * 1000, 2);
  return (
    <>
      <h3>{score.title}</h3>
      <ul>
        <li>{score.plain(formatPerDay(row.avoidedPerDay), formatNumber(row.cost), perThousand)}</li>
        {row.factors.map(({ name, value, normalised, weight, multiplier }) => (
          <li key={name}>
            {value === undefined
              ? score.noValue(name)
              : score.factor(
                  name,
                  formatNumber(value, value % 1 === 0 ? 0 : 2),
                  formatNumber(normalised, 2),
                  formatNumber(weight, 1),
                  formatNumber(multiplier, 2),
                )}
          </li>
        ))}
        {row.factors.length > 0 && <li>{score.result(formatNumber(row.score * 1000, 2))}</li>}
      </ul>
    </>
  );
}

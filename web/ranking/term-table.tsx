import type { RankingRow } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';

const say = rankingWords.ranking.terms;

/** Where a tunnel's drivers are misguided: one line for each decision point and approach. */
export function TermTable({ row }: { readonly row: RankingRow }) {
  if (row.terms.length === 0) return <p>{say.none}</p>;
  const percent = (share: number) => formatNumber(share * 100, 1);
  return (
    <table>
      <caption>{say.caption}</caption>
      <thead>
        <tr>
          <th scope="col">{say.where}</th>
          <th scope="col" className="number">
            {say.vehicles}
          </th>
          <th scope="col" className="number">
            {say.reach}
          </th>
          <th scope="col" className="number">
            {say.guided}
          </th>
          <th scope="col" className="number">
            {say.failing}
          </th>
          <th scope="col" className="number">
            {say.perDay}
          </th>
        </tr>
      </thead>
      <tbody>
        {row.terms.map((term) => (
          <tr key={`${term.osmNode} ${term.linkId} ${term.where}`}>
            <td>
              {say.places[term.where]}, <span className="muted">{describeSource(term)}</span>
            </td>
            <td className="number">
              {formatNumber(term.vehiclesPerDay)}
              {term.isTrafficAssumed && <em className="assumed"> {rankingWords.ranking.assumed}</em>}
            </td>
            <td className="number">{formatNumber(term.reachShare * 100)} %</td>
            <td className="number">{formatNumber(term.satnavShare * 100)} %</td>
            <td className="number">
              {rankingWords.change(percent(term.misguidedShare.without), percent(term.misguidedShare.with))} %
            </td>
            <td className="number">
              {rankingWords.change(formatPerDay(term.perDay.without), formatPerDay(term.perDay.with))}
            </td>
          </tr>
        ))}
      </tbody>
      <tfoot>
        <tr>
          <th scope="row" colSpan={5}>
            {say.sum} <span className="muted">{say.formula}</span>
          </th>
          <td className="number">
            {rankingWords.change(
              formatPerDay(row.misguidedPerDay),
              formatPerDay(row.misguidedPerDayWithDesign),
            )}
          </td>
        </tr>
      </tfoot>
    </table>
  );
}

function describeSource({ osmNode, routes }: RankingRow['terms'][number]): string {
  return routes > 1 ? `${say.node(osmNode)}, ${say.routes(routes)}` : say.node(osmNode);
}

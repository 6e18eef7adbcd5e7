import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { RankingRow } from '../../shared/wire/ranking.ts';
import { useSessions } from '../app/sessions.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { useDecisionPoints } from './use-decision-points.ts';

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
        {byWeight(row.terms).map((term) => (
          <tr key={`${term.osmNode} ${term.linkId} ${term.where}`}>
            <td>
              <TermPlace row={row} term={term} />
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

type Term = RankingRow['terms'][number];

/** Where most are misguided comes first. */
function byWeight(terms: readonly Term[]): readonly Term[] {
  return [...terms].sort((a, b) => b.perDay.without - a.perDay.without);
}

/** Half the side of the piece of map around a decision point, degrees. */
const AROUND_DEG = 0.0015;

/** A decision point by where its roads lead, which shows it on the map. */
function TermPlace({
  row,
  term: { osmNode, where, routes },
}: {
  readonly row: RankingRow;
  readonly term: Term;
}) {
  const { view } = useSessions();
  const point = useDecisionPoints()(row.id, osmNode);
  const name = point?.leads || say.node(osmNode);
  const show = ([lon, lat]: LonLat) => {
    view.patch({ spot: [lon, lat] });
    view.goTo([lon - AROUND_DEG, lat - AROUND_DEG, lon + AROUND_DEG, lat + AROUND_DEG]);
  };
  return (
    <>
      {point === undefined ? (
        name
      ) : (
        <button type="button" className="link" title={say.showOnMap} onClick={() => show(point.at)}>
          {name}
        </button>
      )}
      <span className="term-place muted">
        {say.places[where]}
        {routes > 1 && `, ${say.routes(routes)}`}
      </span>
    </>
  );
}

import type { ProgrammeView } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber } from '../ui/format.ts';

const say = rankingWords.programme.curve;

type Curve = ProgrammeView['curve'];

/** The points of the curve as a table: folded away on the screen, open on paper. */
export function CurveTable({ curve }: { readonly curve: Curve }) {
  return (
    <>
      <details className="not-printed">
        <summary>{say.table}</summary>
        <Points curve={curve} />
      </details>
      <div className="only-print">
        <Points curve={curve} />
      </div>
    </>
  );
}

function Points({ curve }: { readonly curve: Curve }) {
  const { budget, drivers, tunnels, cost, proof } = say.columns;
  return (
    <table className="plan-table">
      <caption className="hidden-from-sight">{say.title}</caption>
      <thead>
        <tr>
          {[budget, drivers, tunnels, cost].map((head) => (
            <th scope="col" className="number" key={head}>
              {head}
            </th>
          ))}
          <th scope="col">{proof}</th>
        </tr>
      </thead>
      <tbody>
        {curve.map((one) => (
          <tr key={one.budgetPerYear}>
            <td className="number">{formatNumber(one.budgetPerYear)}</td>
            <td className="number">{formatNumber(one.avoidedDrivers)}</td>
            <td className="number">{one.tunnelCount}</td>
            <td className="number">{formatNumber(one.cost)}</td>
            <td>{one.isProven ? say.isProven : say.notProven}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

import type { PlanView, ProgrammeView } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatRough } from '../ui/format.ts';
import { TradeOffChart } from './trade-off-chart.tsx';
import { TunnelLink } from './tunnel-link.tsx';
import { useNames } from './use-names.ts';
import { YearTable } from './year-table.tsx';

const say = rankingWords.programme;

type ProgrammeAnswerProps = {
  readonly answer: ProgrammeView;
  /** Plans anew with another budget for a year. */
  readonly onBudget: (budgetPerYear: number) => void;
};

/** A programme: what it does and whether a better one can be, year by year, against the simple order, and beyond. */
export function ProgrammeAnswer({ answer, onBudget }: ProgrammeAnswerProps) {
  const { best, byRatio, years } = answer;
  const count = countTunnels(best);
  return (
    <div className="programme" data-testid="programme">
      <p className="plan-result" role="status">
        <strong>{say.result(formatRough(best.avoidedDrivers), years, count)}</strong>{' '}
        {answer.isProven ? say.proven : describeBound(answer)}
      </p>
      {count === 0 ? (
        <p>{say.nobody}</p>
      ) : (
        <YearTable plan={best} answer={answer} caption={say.years.caption} testId="plan" hasMarks />
      )}
      <Comparison answer={answer} />
      {count > 0 && (
        <details className="not-printed">
          <summary>{say.years.showSimple}</summary>
          <YearTable plan={byRatio} answer={answer} caption={say.years.simpleCaption} testId="simple" />
        </details>
      )}
      <NextStep answer={answer} />
      <TradeOffChart curve={answer.curve} budgetPerYear={answer.budgetPerYear} onBudget={onBudget} />
      <LeftOut answer={answer} />
    </div>
  );
}

function countTunnels({ years }: PlanView): number {
  return years.reduce((sum, { ids }) => sum + ids.length, 0);
}

function describeBound({ best, boundDrivers }: ProgrammeView): string {
  const above = best.avoidedDrivers > 0 ? (boundDrivers / best.avoidedDrivers - 1) * 100 : 100;
  return say.bound(formatRough(boundDrivers), formatNumber(above, 1));
}

function Comparison({ answer: { best, byRatio } }: { readonly answer: ProgrammeView }) {
  const rows = [
    [say.compare.drivers, best.avoidedDrivers, byRatio.avoidedDrivers],
    [say.compare.tunnels, countTunnels(best), countTunnels(byRatio)],
    [say.compare.cost, best.cost, byRatio.cost],
    [say.compare.nights, best.nights, byRatio.nights],
  ] as const;
  return (
    <table className="plan-table" data-testid="comparison">
      <caption>{say.compare.caption}</caption>
      <thead>
        <tr>
          <td />
          {[say.compare.best, say.compare.ratio, say.compare.difference].map((head) => (
            <th scope="col" className="number" key={head}>
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {rows.map(([name, mine, simple]) => (
          <tr key={name}>
            <th scope="row">{name}</th>
            <td className="number">{formatNumber(mine)}</td>
            <td className="number">{formatNumber(simple)}</td>
            <td className="number">{toSigned(Math.round(mine) - Math.round(simple))}</td>
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function toSigned(value: number): string {
  if (value === 0) return '0';
  return `${value > 0 ? '+' : '−'}${formatNumber(Math.abs(value))}`;
}

function NextStep({ answer: { next, best } }: { readonly answer: ProgrammeView }) {
  const nameOf = useNames();
  return (
    <section aria-label={say.next.title} data-testid="next-step">
      <h3>{say.next.title}</h3>
      {next.kind === 'step' ? (
        <p>
          {say.next.step(
            formatNumber(next.extraPerYear),
            formatNumber(next.budgetPerYear),
            formatRough(next.moreAvoidedDrivers),
          )}
          {describeGained(next.plan, best, nameOf)}. {next.isProven ? say.next.proven : say.next.unproven}
        </p>
      ) : (
        <p>{say.next[next.kind]}</p>
      )}
    </section>
  );
}

/** What the dearer plan does that the other does not: tunnels that it adds or has in an earlier year. */
function describeGained(plan: PlanView, before: PlanView, nameOf: (id: string) => string): string {
  const yearOf = new Map(before.years.flatMap(({ year, ids }) => ids.map((id) => [id, year] as const)));
  const planned = plan.years.flatMap(({ year, ids }) => ids.map((id) => ({ id, year })));
  const list = (some: readonly { id: string }[]) => some.map(({ id }) => nameOf(id)).join(', ');
  const added = planned.filter(({ id }) => !yearOf.has(id));
  const earlier = planned.filter(({ id, year }) => year < (yearOf.get(id) ?? 0));
  return [
    ...(added.length === 0 ? [] : [say.next.adds(list(added))]),
    ...(earlier.length === 0 ? [] : [say.next.earlier(list(earlier))]),
  ].join('');
}

function LeftOut({ answer: { best, equipped } }: { readonly answer: ProgrammeView }) {
  const nameOf = useNames();
  return (
    <>
      {best.leftOut.length > 0 && (
        <table className="plan-table" data-testid="plan-left-out">
          <caption>{say.leftOut(best.leftOut.length)}</caption>
          <tbody>
            {best.leftOut.map(({ id, why }) => (
              <tr key={id}>
                <th scope="row">
                  <TunnelLink id={id} name={nameOf(id)} />
                </th>
                <td>{say.why[why]}</td>
              </tr>
            ))}
          </tbody>
        </table>
      )}
      {equipped.length > 0 && (
        <section aria-label={say.equipped(equipped.length)}>
          <h3>{say.equipped(equipped.length)}</h3>
          <ul className="plan-names">
            {equipped.map((id) => (
              <li key={id}>
                <TunnelLink id={id} name={nameOf(id)} />
              </li>
            ))}
          </ul>
        </section>
      )}
    </>
  );
}

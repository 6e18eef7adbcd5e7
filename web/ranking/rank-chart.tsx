import type { RankingRow } from '../../shared/wire/ranking.ts';
import { rankingWords } from '../ranking-words.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { type RankBar, toRankBars } from './to-rank-bars.ts';
import { useDecisionPoints } from './use-decision-points.ts';

const say = rankingWords.ranking.chart;

/** What a tunnel's rank is made of, drawn: who is misguided where, without and with the design, and the money. */
export function RankChart({ row }: { readonly row: RankingRow }) {
  const find = useDecisionPoints();
  const bars = toRankBars(row.terms, (node) => find(row.id, node)?.leads);
  const most = Math.max(...bars.map(({ without, withDesign }) => Math.max(without, withDesign)), 0);
  const avoided = formatPerDay(row.avoidedPerDay);
  const summary = say.summary(
    formatPerDay(row.misguidedPerDay),
    formatPerDay(row.misguidedPerDayWithDesign),
    formatNumber(row.cost),
  );
  return (
    <figure className="rank-chart" data-testid="rank-chart">
      {/* Its text is what the tables below say. */}
      <div role="img" aria-label={summary}>
        <p className="rank-chart-head">
          {say.misguided}{' '}
          <span>
            <Swatch kind="without" /> {say.without}
          </span>{' '}
          <span>
            <Swatch kind="with" /> {say.with}
          </span>
        </p>
        {bars.map((bar) => (
          <TermBar key={bar.key} bar={bar} most={most} />
        ))}
        <p className="rank-chart-head">{say.money}</p>
        <CostBar row={row} />
      </div>
      <figcaption>
        {say.result(avoided, formatNumber(row.cost), formatNumber(row.score * 1000, 2), row.rank)}
        {row.isTrafficAssumed && <em className="assumed"> {say.assumed}</em>}
      </figcaption>
    </figure>
  );
}

/** Bars are drawn in hundredths of their width. */
const FULL = 100;

function TermBar({ bar, most }: { readonly bar: RankBar; readonly most: number }) {
  const name =
    bar.name ?? (bar.others > 0 ? say.others(bar.others) : rankingWords.ranking.terms.node(bar.osmNode));
  const share = (value: number) => (most === 0 ? 0 : (value / most) * FULL);
  return (
    <div className="rank-bar">
      <span className="rank-bar-name">{name}</span>
      <svg viewBox={`0 0 ${FULL} 10`} preserveAspectRatio="none" aria-hidden="true">
        <rect className="without" width={share(bar.without)} height="10" />
        <rect className="with" y="3" width={share(bar.withDesign)} height="4" />
      </svg>
      <span className="number">
        {rankingWords.change(formatPerDay(bar.without), formatPerDay(bar.withDesign))}
      </span>
    </div>
  );
}

function CostBar({ row }: { readonly row: RankingRow }) {
  const { names } = rankingWords.ranking.costTerms;
  let from = 0;
  const parts = row.costTerms.map(({ name, cost }) => {
    const width = row.cost === 0 ? 0 : (cost / row.cost) * FULL;
    from += width;
    return { name, cost, x: from - width, width };
  });
  return (
    <>
      <svg className="cost-bar" viewBox={`0 0 ${FULL} 10`} preserveAspectRatio="none" aria-hidden="true">
        {parts.map(({ name, x, width }, i) => (
          <rect key={name} className={`cost-${i}`} x={x} width={width} height="10" />
        ))}
      </svg>
      <p className="cost-key">
        {parts.map(({ name, cost }, i) => (
          <span key={name}>
            <Swatch kind={`cost-${i}`} /> {names[name]} {formatNumber(cost)}
          </span>
        ))}
      </p>
    </>
  );
}

function Swatch({ kind }: { readonly kind: string }) {
  return (
    <svg className="swatch" viewBox="0 0 10 10" aria-hidden="true">
      <rect className={kind} width="10" height="10" />
    </svg>
  );
}

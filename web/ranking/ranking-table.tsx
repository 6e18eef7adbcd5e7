import { Fragment, type MouseEvent, useState } from 'react';
import type { RankingRow } from '../../shared/wire/ranking.ts';
import { useSessions } from '../app/sessions.ts';
import { rankingWords } from '../ranking-words.ts';
import type { Store } from '../session/make-store.ts';
import { StatusMark } from '../survey/status-mark.tsx';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { FactorCells, FactorHeads } from './factor-cells.tsx';
import type { Inputs } from './kept-inputs.ts';
import { RankWorking } from './rank-working.tsx';
import { TunnelLink } from './tunnel-link.tsx';
import { useNames } from './use-names.ts';

const say = rankingWords.ranking;
/** So many rows are shown at a time. */
const PAGE = 100;
const FIXED_COLUMNS = 6;

type RankingTableProps = { readonly rows: readonly RankingRow[]; readonly store: Store<Inputs> };

/** The tunnels in their order, each with its working on demand. */
export function RankingTable({ rows, store }: RankingTableProps) {
  const { factors } = useStore(store);
  const [opened, setOpened] = useState<ReadonlySet<string>>(new Set());
  const [shownCount, setShownCount] = useState(PAGE);
  const turn = (id: string) => {
    const next = new Set(opened);
    if (!next.delete(id)) next.add(id);
    setOpened(next);
  };
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: a box that scrolls must be reachable by keyboard
    <section className="ranking-scroll" tabIndex={0} aria-label={say.order}>
      <table className="ranking-table" data-testid="ranking">
        <caption className="hidden-from-sight">{say.order}</caption>
        <thead>
          <tr>
            <th scope="col" title={say.rangeNote}>
              {say.columns.rank}
            </th>
            <th scope="col">{say.columns.tunnel}</th>
            <th scope="col" className="number hide-narrow" title={say.misguidedNote}>
              {say.columns.misguided}
            </th>
            <th scope="col" className="number">
              {say.columns.avoided}
            </th>
            <th scope="col" className="number hide-narrow">
              {say.columns.cost}
            </th>
            <th scope="col" className="number" title={say.perCostNote}>
              {say.columns.perCost}
            </th>
            <FactorHeads store={store} />
          </tr>
        </thead>
        <tbody>
          {rows.slice(0, shownCount).map((row) => (
            <Fragment key={row.id}>
              <Row row={row} store={store} isOpened={opened.has(row.id)} onTurn={() => turn(row.id)} />
              {opened.has(row.id) && (
                <tr className="working">
                  <td colSpan={FIXED_COLUMNS + factors.length}>
                    <RankWorking row={row} />
                  </td>
                </tr>
              )}
            </Fragment>
          ))}
        </tbody>
      </table>
      {rows.length > shownCount && (
        <button type="button" onClick={() => setShownCount(shownCount + PAGE)}>
          {words.report.more(Math.min(PAGE, rows.length - shownCount))}
        </button>
      )}
    </section>
  );
}

type RowProps = {
  readonly row: RankingRow;
  readonly store: Store<Inputs>;
  readonly isOpened: boolean;
  readonly onTurn: () => void;
};

function Row({ row, store, isOpened, onTurn }: RowProps) {
  const { view } = useSessions();
  const { hoveredId } = useStore(view);
  const name = useNames()(row.id);
  const open = (event: MouseEvent) => {
    const isControl = (event.target as Element).closest('button, input, label') !== null;
    if (!isControl) view.openTunnel(row.id);
  };
  return (
    <tr
      className={hoveredId === row.id ? 'is-hovered' : ''}
      onClick={open}
      onMouseEnter={() => view.patch({ hoveredId: row.id })}
      onMouseLeave={() => view.patch({ hoveredId: undefined })}
    >
      <td>
        <button
          type="button"
          className="quiet rank"
          aria-expanded={isOpened}
          aria-label={`${row.rank}. ${say.working(name)}`}
          title={say.rangeNote}
          onClick={onTurn}
        >
          <span aria-hidden="true">{isOpened ? '▾' : '▸'}</span> <strong>{row.rank}</strong>{' '}
          <span className="muted">{say.range(row.best.rank, row.worst.rank)}</span>
        </button>
      </td>
      <td className="who">
        <TunnelLink id={row.id} name={name} />
        <span className="muted">
          <StatusMark status={row.status} isShort /> · {say.traffic(formatNumber(row.vehiclesPerDay))}{' '}
          {row.isTrafficAssumed && <em className="assumed">{say.assumed}</em>}
        </span>
      </td>
      <td className="number hide-narrow">
        {rankingWords.change(formatPerDay(row.misguidedPerDay), formatPerDay(row.misguidedPerDayWithDesign))}
      </td>
      <td className="number">{formatPerDay(row.avoidedPerDay)}</td>
      <td className="number hide-narrow">{formatNumber(row.cost)}</td>
      <td className="number">{formatNumber(row.score * 1000, 2)}</td>
      <FactorCells id={row.id} name={name} store={store} />
    </tr>
  );
}

import { filterWords } from '../filter-words.ts';
import { rankingWords } from '../ranking-words.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber, formatPerDay } from '../ui/format.ts';
import { describeAssumption, words } from '../words.ts';
import { StatusMark } from './status-mark.tsx';
import { COLUMNS, type ColumnId } from './tunnel-columns.ts';

type TunnelCellsProps = {
  readonly row: TunnelRow;
  readonly columns: readonly ColumnId[];
  readonly isNarrow: boolean;
};

/** One tunnel's cells: the name and the columns that were chosen, or one cell of two lines. */
export function TunnelCells({ row, columns, isNarrow }: TunnelCellsProps) {
  if (isNarrow) return <NarrowCell row={row} />;
  const title = row.ref === undefined ? row.name : `${row.name} (${row.ref})`;
  return (
    <>
      {/* biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus */}
      <span role="gridcell" aria-colindex={1} title={title} className="tunnel-name">
        {row.name}
      </span>
      {columns.map((id, i) => {
        const { text, note, isZero } = toCell(row, id);
        return (
          // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
          <span
            key={id}
            role="gridcell"
            aria-colindex={i + 2}
            title={note}
            className={`${COLUMNS[id].isFigure ? 'number' : ''} ${isZero ? 'muted' : ''}`}
          >
            {id === 'status' ? <StatusMark status={row.status} isShort /> : text}
          </span>
        );
      })}
    </>
  );
}

type Cell = { readonly text: string; readonly note?: string; readonly isZero?: boolean };

function toCell(row: TunnelRow, id: ColumnId): Cell {
  const value = row[id];
  if (value === undefined) return { text: '–', note: rankingWords.table.notRanked, isZero: true };
  if (id === 'kind') return { text: words.kinds[row.kind] };
  if (id === 'roadClass') return { text: filterWords.roadClass(row.roadClass) };
  if (id === 'assumed') {
    const text = row.assumed.map(describeAssumption).join(', ');
    return { text, note: text };
  }
  if (id === 'status') return { text: words.status[row.status], note: words.status[row.status] };
  if (typeof value !== 'number') return { text: String(value) };
  if (id === 'misguidedPerDay') return { text: describeMisguided(row) };
  const text = formatNumber(value);
  const isAssumed =
    (id === 'maxspeedKmh' && row.assumed.includes('maxspeed')) ||
    (id === 'vehiclesPerDay' && row.assumed.includes('traffic'));
  if (isAssumed) {
    const note = id === 'vehiclesPerDay' ? rankingWords.table.trafficAssumed : words.table.assumed;
    return { text: `${text}*`, note };
  }
  return { text, isZero: value === 0 };
}

/** `1,234 → 56`, or a dash for what is not ranked. */
function describeMisguided({ misguidedPerDay, misguidedPerDayWithDesign }: TunnelRow): string {
  if (misguidedPerDay === undefined || misguidedPerDayWithDesign === undefined) return '–';
  return rankingWords.change(formatPerDay(misguidedPerDay), formatPerDay(misguidedPerDayWithDesign));
}

function NarrowCell({ row }: { readonly row: TunnelRow }) {
  const say = rankingWords.table;
  const figures = [
    ...(row.rank === undefined ? [] : [say.rank(row.rank)]),
    ...(row.misguidedPerDay === undefined ? [] : [say.misguided(describeMisguided(row))]),
    `${formatNumber(row.lengthM)} m`,
    ...(row.exitCount === 0 ? [] : [words.table.exits(row.exitCount)]),
  ];
  return (
    // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
    <span role="gridcell" className="two-lines">
      <span className="name-and-status">
        <span className="tunnel-name">{row.name}</span>
        <StatusMark status={row.status} isShort />
      </span>
      <span className="muted">{figures.join(' · ')}</span>
    </span>
  );
}

import type { ReactNode } from 'react';
import { reportWords } from '../../report-words.ts';
import type { TunnelRow } from '../../session/tunnel-row.ts';
import { StatusMark } from '../../survey/status-mark.tsx';
import { formatNumber, formatPerDay } from '../../ui/format.ts';

const say = reportWords.table;
/** Some fifteen pages: who needs more takes the table as a file. */
const MOST_ROWS = 500;

type Column = keyof typeof say.columns;
const COLUMNS = Object.keys(say.columns) as readonly Column[];
const TEXT: ReadonlySet<Column> = new Set(['name', 'status']);

/** The tunnels in the order of their rank; the head stands on every page. */
export function ReportTable({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const printed = rows.slice(0, MOST_ROWS);
  return (
    <section aria-labelledby="report-table" className="report-tunnels">
      <h2 id="report-table">{say.title}</h2>
      <div className="report-scroll">
        <table className="report-table">
          <thead>
            <tr>
              {COLUMNS.map((column) => (
                <th scope="col" key={column} className={TEXT.has(column) ? undefined : 'number'}>
                  {say.columns[column]}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {printed.map((row) => (
              <tr key={row.id}>
                {COLUMNS.map((column) =>
                  column === 'name' ? (
                    <th scope="row" key={column}>
                      {toCell(column, row)}
                    </th>
                  ) : (
                    <td key={column} className={TEXT.has(column) ? undefined : 'number'}>
                      {toCell(column, row)}
                    </td>
                  ),
                )}
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      {printed.length < rows.length && <p>{say.leftOut(rows.length - printed.length)}</p>}
      <p className="muted report-note">{say.note}</p>
    </section>
  );
}

function toCell(column: Column, row: TunnelRow): ReactNode {
  switch (column) {
    case 'rank':
      return row.rank ?? say.notRanked;
    case 'name':
      return (
        <>
          {row.name}
          {row.ref !== undefined && !row.name.includes(row.ref) && <span className="muted"> {row.ref}</span>}
        </>
      );
    case 'status':
      return <StatusMark status={row.status} isShort />;
    case 'maxspeedKmh':
      return withStar(formatNumber(row.maxspeedKmh), row, 'maxspeed');
    case 'vehiclesPerDay':
      return row.vehiclesPerDay === undefined
        ? say.notRanked
        : withStar(formatNumber(row.vehiclesPerDay), row, 'traffic');
    case 'misguided':
      return row.misguidedPerDay === undefined
        ? say.notRanked
        : `${formatPerDay(row.misguidedPerDay)} → ${formatPerDay(row.misguidedPerDayWithDesign ?? 0)}`;
    case 'cost':
      return row.cost === undefined ? say.notRanked : formatNumber(row.cost);
    default:
      return formatNumber(row[column]);
  }
}

function withStar(text: string, { assumed }: TunnelRow, kind: string): string {
  return assumed.includes(kind) ? `${text}*` : text;
}

import { words } from '../words.ts';
import type { ChangeCell, ChangeRow } from './to-change-cells.ts';

type ChangeCellsProps = { readonly row: ChangeRow | undefined; readonly isNarrow: boolean };

/** One change: a cell a column, or on a narrow screen one cell of two lines. */
export function ChangeCells({ row, isNarrow }: ChangeCellsProps) {
  if (row === undefined) return null;
  if (row.group !== undefined) {
    return (
      // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs
      <span role="gridcell" className="whole-row">
        {row.group}
      </span>
    );
  }
  if (isNarrow) return <TwoLines row={row} />;
  return (
    <>
      {row.cells.map(({ id, text, title, isNumber }) => (
        // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
        <span key={id} role="gridcell" title={title} className={isNumber ? 'number' : ''}>
          {text}
        </span>
      ))}
      {row.locked && (
        // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs
        <span role="gridcell" className="locked" title={words.changes.locked}>
          <Locked />
        </span>
      )}
    </>
  );
}

function TwoLines({ row }: { readonly row: ChangeRow }) {
  const text = (id: string) => row.cells.find((cell) => cell.id === id)?.text;
  const isBeacon = row.beacon !== undefined;
  const [main, ...rest] = isBeacon
    ? [`${text('change')}: ${text('chainage')}`, withUnit(row.cells, 'shift'), text('kept')]
    : [
        text('name'),
        text('change'),
        text('facets'),
        withUnit(row.cells, 'length'),
        withUnit(row.cells, 'shift'),
      ];
  return (
    // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
    <span role="gridcell" className="two-lines">
      <span className="tunnel-name">
        {main} {row.locked && <Locked />}
      </span>
      <span className="muted">{rest.filter((part) => part !== undefined && part !== '').join(' · ')}</span>
    </span>
  );
}

/** `1,712 → 1,730 m`, `shift 20.4 m`: on a narrow screen no column says what a figure is. */
function withUnit(cells: readonly ChangeCell[], id: 'length' | 'shift'): string | undefined {
  const cell = cells.find((one) => one.id === id);
  if (cell === undefined || cell.text === '–') return undefined;
  return id === 'shift' ? words.changes.shiftOf(cell.text) : `${cell.text} m`;
}

function Locked() {
  return (
    <>
      <span aria-hidden="true">◆</span>
      <span className="hidden-from-sight">{words.changes.locked}</span>
    </>
  );
}

import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { words } from '../words.ts';

type TunnelCellsProps = { readonly row: TunnelRow; readonly isNarrow: boolean };

/** One tunnel's cells: eight columns, or one cell of two lines. */
export function TunnelCells({ row, isNarrow }: TunnelCellsProps) {
  const isSpeedAssumed = row.assumed.includes('maxspeed');
  if (isNarrow) {
    const figures = [
      `${formatNumber(row.lengthM)} m`,
      ...(row.exitCount === 0 ? [] : [words.table.exits(row.exitCount)]),
      `${formatNumber(row.maxspeedKmh)} km/h`,
      row.beaconCount === 0 ? words.status[row.status] : words.table.beacons(row.beaconCount),
    ];
    return (
      // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
      <span role="gridcell" className="two-lines">
        <span className="tunnel-name">{row.name}</span>
        <span className="muted">{figures.join(' · ')}</span>
      </span>
    );
  }
  const cells = [
    { id: 'name', text: row.name, title: row.ref === undefined ? row.name : `${row.name} (${row.ref})` },
    { id: 'kind', text: words.kinds[row.kind] },
    { id: 'exits', text: String(row.exitCount), isNumber: true, isZero: row.exitCount === 0 },
    { id: 'length', text: formatNumber(row.lengthM), isNumber: true },
    { id: 'decisions', text: String(row.decisionCount), isNumber: true, isZero: row.decisionCount === 0 },
    {
      id: 'speed',
      text: `${formatNumber(row.maxspeedKmh)}${isSpeedAssumed ? '*' : ''}`,
      isNumber: true,
      title: isSpeedAssumed ? words.table.assumed : undefined,
    },
    { id: 'beacons', text: formatNumber(row.beaconCount), isNumber: true, isZero: row.beaconCount === 0 },
    { id: 'status', text: words.status[row.status], isZero: row.status === 'none' },
  ];
  return (
    <>
      {cells.map(({ id, text, title, isNumber, isZero }, i) => (
        // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: cell of a grid of divs; its row takes the focus
        <span
          key={id}
          role="gridcell"
          aria-colindex={i + 1}
          title={title}
          className={`${isNumber ? 'number' : ''} ${isZero ? 'muted' : ''} ${id === 'name' ? 'tunnel-name' : ''}`}
        >
          {text}
        </span>
      ))}
    </>
  );
}

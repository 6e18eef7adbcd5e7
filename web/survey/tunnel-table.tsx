import {
  createColumnHelper,
  createSortedRowModel,
  rowSortingFeature,
  type SortingState,
  sortFn_basic,
  sortFn_text,
  tableFeatures,
  useTable,
} from '@tanstack/react-table';
import { useMemo, useState } from 'react';
import { useSessions } from '../app/sessions.ts';
import type { OpenSurvey } from '../session/survey-session.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { RowGrid } from '../ui/row-grid.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { listTunnels } from './list-tunnels.ts';
import { SurveyRules } from './survey-rules.tsx';
import { TableTools } from './table-tools.tsx';
import { TunnelCells } from './tunnel-cells.tsx';

const features = tableFeatures({
  rowSortingFeature,
  sortedRowModel: createSortedRowModel(),
  sortFns: { basic: sortFn_basic, text: sortFn_text },
});
const helper = createColumnHelper<typeof features, TunnelRow>();
const TEXT = { sortFn: 'text', sortDescFirst: false } as const;
const FIGURE = { sortFn: 'basic', sortDescFirst: true } as const;
const columns = helper.columns([
  helper.accessor('name', TEXT),
  helper.accessor('kind', TEXT),
  helper.accessor('exitCount', FIGURE),
  helper.accessor('lengthM', FIGURE),
  helper.accessor('decisionCount', FIGURE),
  helper.accessor('maxspeedKmh', FIGURE),
  helper.accessor('beaconCount', FIGURE),
  helper.accessor('status', TEXT),
]);
export type ColumnId = keyof typeof words.table.columns;

/** Most exits underground first, then the longest. */
const FIRST_ORDER: SortingState = [
  { id: 'exitCount', desc: true },
  { id: 'lengthM', desc: true },
];
const WIDTHS = 'minmax(110px, 1fr) 48px 42px 64px 44px 42px 56px 56px';

/** All tunnels of a survey: sorted, filtered, chosen. */
export function TunnelTable({ survey }: { readonly survey: OpenSurvey }) {
  const { view } = useSessions();
  const { filter, showsCovered, showsRestricted, hoveredId } = useStore(view);
  const [sorting, setSorting] = useState(FIRST_ORDER);
  const isNarrow = useMedia(NARROW);
  const data = useMemo(
    () => [...listTunnels(survey.rows, { text: filter, showsCovered, showsRestricted })],
    [survey.rows, filter, showsCovered, showsRestricted],
  );
  const table = useTable({
    features,
    columns,
    data,
    getRowId: (row) => row.id,
    state: { sorting },
    onSortingChange: setSorting,
    enableSortingRemoval: false,
  });
  const rows = table.getRowModel().rows.map((row) => row.original);
  const beaconCount = rows.reduce((sum, row) => sum + row.beaconCount, 0);
  const lengthM = rows.reduce((sum, row) => sum + row.lengthM, 0);
  const sorted = (id: string) => sorting.find((one) => one.id === id);

  const head = (Object.keys(words.table.columns) as ColumnId[]).map((id, i) => {
    const { short, long } = words.table.columns[id];
    const order = sorted(id);
    const isFigure = table.getColumn(id)?.getFirstSortDir() === 'desc';
    const isMain = sorting[0]?.id === id;
    return (
      // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: head of a grid of divs; its button takes the focus
      <span
        key={id}
        role="columnheader"
        aria-colindex={i + 1}
        aria-sort={!isMain || order === undefined ? 'none' : order.desc ? 'descending' : 'ascending'}
        className={isFigure ? 'number' : ''}
      >
        <button type="button" title={long} onClick={() => setSorting(turnOrder(sorting, id, isFigure))}>
          {short}
          <span aria-hidden="true">{isMain && order ? (order.desc ? ' ▾' : ' ▴') : ''}</span>
        </button>
      </span>
    );
  });

  return (
    <>
      <TableTools rows={survey.rows} sorting={sorting} onSorting={setSorting} />
      {rows.length === 0 ? (
        <div className="empty" role="status">
          <p>{filter.trim() === '' ? words.table.none : words.table.noMatch(filter)}</p>
          {filter.trim() !== '' && (
            <button type="button" onClick={() => view.patch({ filter: '' })}>
              {words.table.clear}
            </button>
          )}
        </div>
      ) : (
        <RowGrid
          label={words.table.title}
          columns={isNarrow ? 'minmax(0, 1fr)' : WIDTHS}
          head={isNarrow ? <NarrowHead /> : head}
          count={rows.length}
          touchLines={2}
          keyOf={(index) => rows[index]?.id ?? ''}
          selected={undefined}
          classOf={(index) => (rows[index]?.id === hoveredId ? 'is-hovered' : '')}
          onOpen={(index) => {
            const row = rows[index];
            if (row !== undefined) view.openTunnel(row.id);
          }}
          onHover={(index) => view.patch({ hoveredId: index === undefined ? undefined : rows[index]?.id })}
          renderRow={(index) => {
            const row = rows[index];
            return row === undefined ? null : <TunnelCells row={row} isNarrow={isNarrow} />;
          }}
        />
      )}
      <footer className="table-foot" aria-live="polite">
        <strong>{words.table.footer(rows.length, survey.rows.length)}</strong>
        <span>{formatNumber(lengthM)} m</span>
        <span>{words.table.beacons(beaconCount)}</span>
        <SurveyRules />
      </footer>
    </>
  );
}

/** The column that leads the order is turned round; another one starts with its largest figure or with A. */
function turnOrder(sorting: SortingState, id: ColumnId, isFigure: boolean): SortingState {
  const [main] = sorting;
  return [{ id, desc: main?.id === id ? !main.desc : isFigure }];
}

/** On a narrow screen a row is one cell of two lines; sorting stands above the table. */
function NarrowHead() {
  return (
    // biome-ignore lint/a11y/useSemanticElements lint/a11y/useFocusableInteractive: head of a grid of divs
    <span role="columnheader" className="hidden-from-sight">
      {words.table.title}
    </span>
  );
}

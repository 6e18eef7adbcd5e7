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
import { useMemo } from 'react';
import { useSessions } from '../app/sessions.ts';
import { rankingWords } from '../ranking-words.ts';
import type { OpenSurvey } from '../session/survey-session.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { RowGrid } from '../ui/row-grid.tsx';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { listTunnels } from './list-tunnels.ts';
import { NoTunnel } from './no-tunnel.tsx';
import { SurveyRules } from './survey-rules.tsx';
import { SurveyTabs } from './survey-tabs.tsx';
import { isLargestFirst, TableTools } from './table-tools.tsx';
import type { SortColumn, Sorting } from './table-view.ts';
import { TunnelCells } from './tunnel-cells.tsx';
import { COLUMN_IDS, COLUMNS, toGrid } from './tunnel-columns.ts';

const features = tableFeatures({
  rowSortingFeature,
  sortedRowModel: createSortedRowModel(),
  sortFns: { basic: sortFn_basic, text: sortFn_text },
});
const helper = createColumnHelper<typeof features, TunnelRow>();
const TEXT = { sortFn: 'text', sortDescFirst: false } as const;
const FIGURE = { sortFn: 'basic', sortDescFirst: true, sortUndefined: 'last' } as const;
const columns = helper.columns([
  helper.accessor('name', TEXT),
  ...COLUMN_IDS.map((id) =>
    helper.accessor((row) => (id === 'assumed' ? row.assumed.length : row[id]), {
      id,
      ...(id === 'assumed' || COLUMNS[id].isFigure ? FIGURE : TEXT),
    }),
  ),
]);

/** All tunnels of a survey: sorted, filtered, chosen. */
export function TunnelTable({ survey }: { readonly survey: OpenSurvey }) {
  const { view } = useSessions();
  const { table: shownView, hoveredId, lastTunnel } = useStore(view);
  const { columns: shown } = shownView;
  const sorting = shownView.sorting as SortingState;
  const isNarrow = useMedia(NARROW);
  const data = useMemo(() => [...listTunnels(survey.rows, shownView)], [survey.rows, shownView]);
  const table = useTable({
    features,
    columns,
    data,
    getRowId: (row) => row.id,
    state: { sorting },
    enableSortingRemoval: false,
  });
  const rows = table.getRowModel().rows.map((row) => row.original);
  const beaconCount = rows.reduce((sum, row) => sum + row.beaconCount, 0);
  const lengthM = rows.reduce((sum, row) => sum + row.lengthM, 0);
  const sorted = (id: string) => sorting.find((one) => one.id === id);

  const grid = toGrid(shown);
  const head = (['name', ...shown] as const).map((id, i) => {
    const { short, long } = words.table.columns[id];
    const order = sorted(id);
    const isFigure = id !== 'name' && COLUMNS[id].isFigure;
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
        <button
          type="button"
          title={long}
          onClick={() => view.patchTable({ sorting: turnOrder(shownView.sorting, id) })}
        >
          {short}
          <span aria-hidden="true">{isMain && order ? (order.desc ? ' ▾' : ' ▴') : ''}</span>
        </button>
      </span>
    );
  });

  return (
    <>
      <SurveyTabs />
      <TableTools rows={survey.rows} />
      {rows.length === 0 ? (
        <NoTunnel rows={survey.rows} />
      ) : (
        <RowGrid
          label={words.table.title}
          columns={isNarrow ? 'minmax(0, 1fr)' : grid.css}
          minWidthPx={isNarrow ? 0 : grid.minWidthPx}
          head={isNarrow ? <NarrowHead /> : head}
          count={rows.length}
          touchLines={2}
          keyOf={(index) => rows[index]?.id ?? ''}
          selected={undefined}
          first={lastTunnel === undefined ? undefined : rows.findIndex(({ id }) => id === lastTunnel)}
          classOf={(index) => (rows[index]?.id === hoveredId ? 'is-hovered' : '')}
          onOpen={(index) => {
            const row = rows[index];
            if (row !== undefined) view.openTunnel(row.id);
          }}
          onHover={(index) => view.patch({ hoveredId: index === undefined ? undefined : rows[index]?.id })}
          renderRow={(index) => {
            const row = rows[index];
            return row === undefined ? null : <TunnelCells row={row} columns={shown} isNarrow={isNarrow} />;
          }}
        />
      )}
      <footer className="table-foot" aria-live="polite">
        <strong>{words.table.footer(rows.length, survey.rows.length)}</strong>
        <span>{formatNumber(lengthM)} m</span>
        <span>{words.table.beacons(beaconCount)}</span>
        {rows.some((row) => row.assumed.includes('traffic')) && (
          <span className="muted">{rankingWords.table.star}</span>
        )}
        <SurveyRules />
      </footer>
    </>
  );
}

/** The column that leads the order is turned round; another one starts with its largest figure or with A. */
function turnOrder(sorting: Sorting, id: SortColumn): Sorting {
  const [main] = sorting;
  return [{ id, desc: main?.id === id ? !main.desc : isLargestFirst(id) }];
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

import type { SortingState } from '@tanstack/react-table';
import { useSessions } from '../app/sessions.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { ColumnChoice } from './column-choice.tsx';
import { StatusChoice } from './status-choice.tsx';
import { COLUMN_IDS, COLUMNS, type ColumnId } from './tunnel-columns.ts';

type TableToolsProps = {
  readonly rows: readonly TunnelRow[];
  readonly sorting: SortingState;
  readonly onSorting: (sorting: SortingState) => void;
};

/** Filter, the kinds that are hidden at first, and on a narrow screen the order. */
export function TableTools({ rows, sorting, onSorting }: TableToolsProps) {
  const { view } = useSessions();
  const { filter, showsCovered, showsRestricted } = useStore(view);
  const isNarrow = useMedia(NARROW);
  const coveredCount = rows.filter((row) => row.kind !== 'tunnel').length;
  const restrictedCount = rows.filter((row) => row.restricted).length;
  const sort = (id: string) => onSorting([{ id, desc: isLargestFirst(id) }]);
  return (
    <div className="table-tools">
      <input
        type="search"
        aria-label={words.table.filter}
        placeholder={words.table.filterHint}
        value={filter}
        onChange={(event) => view.patch({ filter: event.target.value })}
      />
      {isNarrow && (
        <select
          aria-label={words.table.sortBy}
          value={sorting[0]?.id}
          onChange={(event) => sort(event.target.value)}
        >
          {(['name', ...COLUMN_IDS] as const).map((id) => (
            <option key={id} value={id}>
              {words.table.columns[id].long}
            </option>
          ))}
        </select>
      )}
      <StatusChoice rows={rows} />
      <label className="check">
        <input
          type="checkbox"
          checked={showsCovered}
          onChange={(event) => view.patch({ showsCovered: event.target.checked })}
        />
        {isNarrow ? words.table.coveredShort : words.table.covered}{' '}
        <span className="muted">{words.table.hiddenCount(coveredCount)}</span>
      </label>
      <label className="check">
        <input
          type="checkbox"
          checked={showsRestricted}
          onChange={(event) => view.patch({ showsRestricted: event.target.checked })}
        />
        {isNarrow ? words.table.restrictedShort : words.table.restricted}{' '}
        <span className="muted">{words.table.hiddenCount(restrictedCount)}</span>
      </label>
      {!isNarrow && <ColumnChoice />}
    </div>
  );
}

/** Where a column's order starts; the first rank comes first. */
export function isLargestFirst(id: string): boolean {
  return id in COLUMNS && id !== 'rank' && COLUMNS[id as ColumnId].isFigure;
}

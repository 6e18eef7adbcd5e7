import './filters.css';
import { useSessions } from '../app/sessions.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { ColumnChoice } from './column-choice.tsx';
import { FilterChips } from './filter-chips.tsx';
import { FilterMenu } from './filter-menu.tsx';
import { StatusChoice } from './status-choice.tsx';
import { SORT_COLUMNS, type SortColumn } from './table-view.ts';
import { COLUMNS } from './tunnel-columns.ts';

/** Filter, the kinds that are hidden at first, and on a narrow screen the order. */
export function TableTools({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const { view } = useSessions();
  const { text, showsCovered, showsRestricted, sorting } = useStore(view).table;
  const isNarrow = useMedia(NARROW);
  const coveredCount = rows.filter((row) => row.kind !== 'tunnel').length;
  const restrictedCount = rows.filter((row) => row.restricted).length;
  const sort = (id: SortColumn) => view.patchTable({ sorting: [{ id, desc: isLargestFirst(id) }] });
  return (
    <div className="table-tools">
      <input
        type="search"
        aria-label={words.table.filter}
        placeholder={words.table.filterHint}
        value={text}
        onChange={(event) => view.patchTable({ text: event.target.value })}
      />
      <div className="table-menus">
        <FilterMenu rows={rows} />
        {!isNarrow && <ColumnChoice />}
      </div>
      {isNarrow && (
        <select
          aria-label={words.table.sortBy}
          value={sorting[0]?.id}
          onChange={(event) => sort(event.target.value as SortColumn)}
        >
          {SORT_COLUMNS.map((id) => (
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
          onChange={(event) => view.patchTable({ showsCovered: event.target.checked })}
        />
        {isNarrow ? words.table.coveredShort : words.table.covered}{' '}
        <span className="muted">{words.table.hiddenCount(coveredCount)}</span>
      </label>
      <label className="check">
        <input
          type="checkbox"
          checked={showsRestricted}
          onChange={(event) => view.patchTable({ showsRestricted: event.target.checked })}
        />
        {isNarrow ? words.table.restrictedShort : words.table.restricted}{' '}
        <span className="muted">{words.table.hiddenCount(restrictedCount)}</span>
      </label>
      <FilterChips />
    </div>
  );
}

/** Where a column's order starts; the first rank comes first. */
export function isLargestFirst(id: SortColumn): boolean {
  return id !== 'name' && id !== 'rank' && COLUMNS[id].isFigure;
}

import { useSessions } from '../app/sessions.ts';
import { filterWords as say } from '../filter-words.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { listActiveFilters } from './list-active-filters.ts';
import { listTunnels } from './list-tunnels.ts';
import { clearFilters } from './table-view.ts';

/** Why the table is empty, and which filter to remove. */
export function NoTunnel({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const { view } = useSessions();
  const { table } = useStore(view);
  const active = listActiveFilters(table);
  const [first] = active;
  const helpful = active
    .map((filter) => ({ ...filter, count: listTunnels(rows, filter.without).length }))
    .filter(({ count }) => count > 0);
  return (
    <div className="empty table-none" role="status">
      <p>
        {first === undefined ? words.table.none : active.length === 1 ? say.noneOne(first.label) : say.none}
      </p>
      {helpful.map(({ id, label, count, without }) => (
        <button key={id} type="button" onClick={() => view.patchTable(without)}>
          {say.without(label, count)}
        </button>
      ))}
      {active.length > Math.min(1, helpful.length) && (
        <button type="button" onClick={() => view.patchTable(clearFilters(table))}>
          {words.table.clear}
        </button>
      )}
    </div>
  );
}

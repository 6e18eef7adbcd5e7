import { useSessions } from '../app/sessions.ts';
import { filterWords as say } from '../filter-words.ts';
import { useStore } from '../ui/use-store.ts';
import { listActiveFilters } from './list-active-filters.ts';
import { clearFilters } from './table-view.ts';

/** The filters in use, each with a way to be rid of it; nothing where there is none. */
export function FilterChips() {
  const { view } = useSessions();
  const { table } = useStore(view);
  const active = listActiveFilters(table);
  if (active.length === 0) return null;
  return (
    <ul className="filter-chips" aria-label={say.active}>
      {active.map(({ id, label, without }) => (
        <li key={id}>
          <button type="button" aria-label={say.remove(label)} onClick={() => view.patchTable(without)}>
            {label} <span aria-hidden="true">×</span>
          </button>
        </li>
      ))}
      {active.length > 1 && (
        <li>
          <button type="button" className="link" onClick={() => view.patchTable(clearFilters(table))}>
            {say.clearAll}
          </button>
        </li>
      )}
    </ul>
  );
}

import { useSessions } from '../app/sessions.ts';
import { rankingWords as say } from '../ranking-words.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { formatNumber } from '../ui/format.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { listTunnels, STATUS_FILTERS, type StatusFilter } from './list-tunnels.ts';

/** Tunnels by status with how many there are: which lack beacons is one press away. */
export function StatusChoice({ rows }: { readonly rows: readonly TunnelRow[] }) {
  const { view } = useSessions();
  const { table } = useStore(view);
  const { status } = table;
  const isNarrow = useMedia(NARROW);
  const count = (one: StatusFilter) => formatNumber(listTunnels(rows, { ...table, status: one }).length);
  if (isNarrow) {
    return (
      <select
        aria-label={say.table.status}
        value={status}
        onChange={({ target }) => view.patchTable({ status: target.value as StatusFilter })}
      >
        {STATUS_FILTERS.map((one) => (
          <option key={one} value={one}>
            {say.table.statuses[one]} ({count(one)})
          </option>
        ))}
      </select>
    );
  }
  return (
    <fieldset className="status-choice">
      <legend className="hidden-from-sight">{say.table.status}</legend>
      {STATUS_FILTERS.map((one) => (
        <label key={one} className="status-chip" title={say.table.statusNotes[one]}>
          <input
            type="radio"
            name="status"
            className="hidden-from-sight"
            checked={status === one}
            onChange={() => view.patchTable({ status: one })}
          />
          {say.table.statuses[one]} <strong>{count(one)}</strong>
        </label>
      ))}
    </fieldset>
  );
}

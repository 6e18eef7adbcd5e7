import { useSessions } from '../app/sessions.ts';
import { rankingWords as say } from '../ranking-words.ts';
import { Menu } from '../ui/menu.tsx';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { COLUMN_IDS } from './tunnel-columns.ts';

/** Which columns the table shows; they keep their order. */
export function ColumnChoice() {
  const { view } = useSessions();
  const { columns } = useStore(view).table;
  return (
    <Menu label={say.table.choose} align="right" className="column-choice">
      {() => (
        <fieldset>
          <legend className="hidden-from-sight">{say.table.choose}</legend>
          {COLUMN_IDS.map((id) => (
            <label className="check" key={id}>
              <input
                type="checkbox"
                checked={columns.includes(id)}
                onChange={({ target }) =>
                  view.patchTable({
                    columns: COLUMN_IDS.filter((one) =>
                      one === id ? target.checked : columns.includes(one),
                    ),
                  })
                }
              />
              {words.table.columns[id].long}
            </label>
          ))}
        </fieldset>
      )}
    </Menu>
  );
}

import type { Comparison } from '../../shared/wire/comparison.ts';
import { useSessions } from '../app/sessions.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';

/** More would push the lists off the screen. */
const SHOWN = 50;

/** What people have to know before they accept. */
export function ChangeNotes({ notes }: { readonly notes: Comparison['notes'] }) {
  const { surveys, view } = useSessions();
  const { open } = useStore(surveys);
  if (notes.length === 0) return null;
  const rows = open?.status === 'ready' ? open.value.rows : [];
  return (
    <details className="changes-notes" open={notes.length <= 3}>
      <summary>
        {words.changes.notes} ({notes.length})
      </summary>
      <ul>
        {notes.slice(0, SHOWN).map(({ code, complexId, detail }) => {
          const row = rows.find((one) => one.id === complexId);
          return (
            <li key={`${code} ${complexId ?? ''} ${detail}`}>
              {detail}{' '}
              {row !== undefined && (
                <button type="button" className="link" onClick={() => view.goTo(row.bbox)}>
                  {row.name}
                </button>
              )}
            </li>
          );
        })}
        {notes.length > SHOWN && <li className="muted">{words.changes.moreNotes(notes.length - SHOWN)}</li>}
      </ul>
    </details>
  );
}

import type { Panel } from '../app/address.ts';
import { useSessions } from '../app/sessions.ts';
import { rankingWords as say } from '../ranking-words.ts';
import { useStore } from '../ui/use-store.ts';

const TABS = [undefined, 'ranking', 'programme', 'evidence'] as const satisfies readonly (
  | Panel
  | undefined
)[];

/** What can be asked of a whole survey; the one that is shown is marked. */
export function SurveyTabs() {
  const { view } = useSessions();
  const { address } = useStore(view);
  return (
    <nav className="survey-tabs" aria-label={say.tabs.label}>
      {TABS.map((panel) => (
        <button
          type="button"
          key={panel ?? 'table'}
          aria-current={address.panel === panel ? 'page' : undefined}
          onClick={() => (panel === undefined ? view.openTable() : view.openPanel(panel))}
        >
          {say.tabs[panel ?? 'table']}
        </button>
      ))}
    </nav>
  );
}

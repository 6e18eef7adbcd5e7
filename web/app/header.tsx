import { AccountMenu } from '../accounts/account-menu.tsx';
import { SurveyPicker } from '../survey/survey-picker.tsx';
import type { Theme } from '../ui/theme.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { useSessions } from './sessions.ts';
import { useRights } from './use-rights.ts';

type HeaderProps = { readonly theme: Theme; readonly onTheme: (theme: Theme) => void };

/** Name, survey, and what can be done with it. */
export function Header({ theme, onTheme }: HeaderProps) {
  const { view, surveys, who } = useSessions();
  const { address } = useStore(view);
  const { open } = useStore(surveys);
  const { mayEdit } = useRights();
  const hasSurvey = open?.status === 'ready';
  const isReport = address.panel === 'report';
  const next: Theme = theme === 'dark' ? 'light' : 'dark';
  const nextWords = next === 'dark' ? words.header.toDark : words.header.toLight;
  const hasAccounts = useStore(who).who.mode === 'accounts';
  // No room for one more button.
  const isFull = useMedia(NARROW) && hasAccounts;
  return (
    <header className="head">
      <h1>
        <img src="/icon.svg" alt="" width="20" height="20" />
        <span className="product">{words.product}</span>
      </h1>
      <SurveyPicker />
      <nav aria-label={words.header.actions}>
        {mayEdit && (
          <button type="button" onClick={() => view.patch({ isImportOpen: true })}>
            {words.header.import}
          </button>
        )}
        <button type="button" disabled={!hasSurvey} onClick={() => view.patch({ isExportOpen: true })}>
          {words.header.export}
        </button>
        <button
          type="button"
          aria-pressed={isReport}
          disabled={!hasSurvey}
          onClick={() => (isReport ? view.openTable() : view.openPanel('report'))}
        >
          {words.header.report}
        </button>
        {!isFull && (
          <button
            type="button"
            className="theme"
            title={nextWords}
            aria-label={nextWords}
            onClick={() => onTheme(next)}
          >
            <span aria-hidden="true">{next === 'dark' ? '◐' : '◑'}</span>
          </button>
        )}
        {hasAccounts && (
          <AccountMenu
            extra={
              isFull && (
                <button type="button" className="quiet" onClick={() => onTheme(next)}>
                  {nextWords}
                </button>
              )
            }
          />
        )}
      </nav>
    </header>
  );
}

import './app.css';
import './print.css';
import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import { accountWords } from '../account-words.ts';
import { ReadingOnly } from '../accounts/reading-only.tsx';
import { TunnelSheet } from '../design/tunnel-sheet.tsx';
import { EvidencePanel } from '../evidence/evidence-panel.tsx';
import { ProgrammePanel } from '../ranking/programme-panel.tsx';
import { RankingPanel } from '../ranking/ranking-panel.tsx';
import { ChangesPanel } from '../survey/changes-panel.tsx';
import { HistoryPanel } from '../survey/history-panel.tsx';
import { ImportDialog } from '../survey/import-dialog.tsx';
import { DrivesStatus, ImportStatus, UpdateStatus } from '../survey/import-status.tsx';
import { ReportPanel } from '../survey/report-panel.tsx';
import { SurveyPanel } from '../survey/survey-panel.tsx';
import { UpdateDialog } from '../survey/update-dialog.tsx';
import { keepTheme, readTheme, showTheme, type Theme, watchSystemTheme } from '../ui/theme.ts';
import { NARROW, useMedia } from '../ui/use-media.ts';
import { useStore } from '../ui/use-store.ts';
import { words } from '../words.ts';
import { Banners } from './banners.tsx';
import { DropZone } from './drop-zone.tsx';
import { ErrorBoundary } from './error-boundary.tsx';
import { Header } from './header.tsx';
import { useSessions } from './sessions.ts';
import { useFollowAddress } from './use-follow-address.ts';
import { useGlobalKeys } from './use-global-keys.ts';
import { useRights } from './use-rights.ts';

const MapPane = lazy(() => import('./map-pane.tsx'));
const ExportDialog = lazy(() => import('../hand-over/export-dialog.tsx'));
const ReportPage = lazy(() => import('../hand-over/report-page.tsx'));
const AccountDialogs = lazy(() => import('../accounts/account-dialogs.tsx'));

/** The shell: head, map, and the panel beside it (below it on a narrow screen). */
export function App() {
  const { view, surveys } = useSessions();
  const { address, sheet, dialog, isExportOpen } = useStore(view);
  const { mayEdit } = useRights();
  const [theme, setTheme] = useTheme();
  const isNarrow = useMedia(NARROW);
  const { surveys: list, open } = useStore(surveys);
  const isReady = open?.status === 'ready';
  // A survey that is not here (any more) has no tunnel and no report either.
  const isGone =
    list.status === 'ready' &&
    address.survey !== undefined &&
    !list.value.some((one) => one.id === address.survey);
  useFollowAddress();
  useGlobalKeys();
  const panel = useKeptFocus(`${address.panel ?? ''} ${address.tunnel ?? ''}`);
  const isFull = isNarrow && sheet === 'full';
  if (address.panel === 'print' && !isGone) {
    return (
      <Suspense fallback={<p className="map-placeholder">{words.loading}</p>}>
        <ReportPage />
      </Suspense>
    );
  }
  return (
    <div className="app" data-sheet={sheet}>
      <Header theme={theme} onTheme={setTheme} />
      <div className="banners">
        <Banners />
        <ImportStatus />
        <UpdateStatus />
        <DrivesStatus />
      </div>
      <main>
        <section className="panel" aria-label={words.panel.label} ref={panel} tabIndex={-1}>
          {isNarrow && (
            <button
              type="button"
              className="sheet-handle"
              aria-expanded={isFull}
              onClick={() => view.patch({ sheet: isFull ? 'half' : 'full' })}
            >
              <span aria-hidden="true">{isFull ? '▾' : '▴'}</span>{' '}
              {isFull ? words.panel.shrink : words.panel.expand}
            </button>
          )}
          <ReadingOnly />
          {isGone ? (
            <SurveyPanel />
          ) : address.panel === 'report' ? (
            <ReportPanel />
          ) : address.panel === 'changes' ? (
            <ChangesPanel />
          ) : address.panel !== undefined && !isReady ? (
            <SurveyPanel />
          ) : address.panel === 'ranking' ? (
            <RankingPanel />
          ) : address.panel === 'programme' ? (
            <ProgrammePanel />
          ) : address.panel === 'evidence' ? (
            <EvidencePanel />
          ) : address.panel === 'history' ? (
            <HistoryPanel />
          ) : address.tunnel !== undefined ? (
            <TunnelSheet />
          ) : (
            <SurveyPanel />
          )}
        </section>
        <ErrorBoundary fallback={<p className="map-placeholder">{words.map.failed}</p>}>
          <Suspense fallback={<p className="map-placeholder">{words.map.loading}</p>}>
            <MapPane theme={theme} />
          </Suspense>
        </ErrorBoundary>
      </main>
      {mayEdit && <ImportDialog />}
      {mayEdit && <UpdateDialog />}
      {isExportOpen && isReady && (
        <ErrorBoundary fallback={<p className="notice error">{accountWords.dialogFailed}</p>}>
          <Suspense fallback={null}>
            <ExportDialog />
          </Suspense>
        </ErrorBoundary>
      )}
      {dialog !== undefined && (
        <ErrorBoundary fallback={<p className="notice error">{accountWords.dialogFailed}</p>}>
          <Suspense fallback={null}>
            <AccountDialogs />
          </Suspense>
        </ErrorBoundary>
      )}
      <DropZone />
    </div>
  );
}

/** What had the focus may be gone with what the panel showed before: then the panel itself takes it. */
function useKeptFocus(shown: string) {
  const panel = useRef<HTMLElement>(null);
  const before = useRef(shown);
  useEffect(() => {
    if (before.current === shown) return;
    before.current = shown;
    if (document.activeElement === document.body) panel.current?.focus({ preventScroll: true });
  }, [shown]);
  return panel;
}

function useTheme(): [Theme, (theme: Theme) => void] {
  const [theme, setTheme] = useState(readTheme);
  const show = (next: Theme) => {
    // Before the state changes: the map reads its colours from the page.
    showTheme(next);
    setTheme(next);
  };
  // biome-ignore lint/correctness/useExhaustiveDependencies: set up once
  useEffect(() => watchSystemTheme(show), []);
  return [
    theme,
    (next) => {
      keepTheme(next);
      show(next);
    },
  ];
}

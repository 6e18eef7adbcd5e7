import './ui/base.css';
import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { ErrorBoundary } from './app/error-boundary.tsx';
import { Gate } from './app/gate.tsx';
import { createSessions, SessionsProvider } from './app/sessions.ts';
import { readTheme, showTheme } from './ui/theme.ts';

showTheme(readTheme());
const sessions = createSessions();
void sessions.who.start();
const root = document.getElementById('root');
if (root === null) throw new Error('the page has no root');
createRoot(root).render(
  <StrictMode>
    <ErrorBoundary>
      <SessionsProvider value={sessions}>
        <Gate />
      </SessionsProvider>
    </ErrorBoundary>
  </StrictMode>,
);

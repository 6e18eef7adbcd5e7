export type Theme = 'light' | 'dark';

const KEY = 'boremark-theme';

/** The theme that a person chose, else the system's. Storage may be closed to us: then the system's. */
export function readTheme(): Theme {
  const chosen = readStored();
  if (chosen !== undefined) return chosen;
  return window.matchMedia('(prefers-color-scheme: dark)').matches ? 'dark' : 'light';
}

/** Tells when the system's theme changes; a theme chosen by a person stays. */
export function watchSystemTheme(onChange: (theme: Theme) => void): () => void {
  const dark = window.matchMedia('(prefers-color-scheme: dark)');
  const changed = () => {
    if (readStored() === undefined) onChange(dark.matches ? 'dark' : 'light');
  };
  dark.addEventListener('change', changed);
  return () => dark.removeEventListener('change', changed);
}

/** Puts a theme on the page; the tokens follow. */
export function showTheme(theme: Theme): void {
  document.documentElement.dataset.theme = theme;
}

/** Remembers a person's choice where that is possible. */
export function keepTheme(theme: Theme): void {
  try {
    window.localStorage.setItem(KEY, theme);
  } catch {
    // Without storage the choice lasts as long as the page.
  }
}

function readStored(): Theme | undefined {
  try {
    const stored = window.localStorage.getItem(KEY);
    return stored === 'light' || stored === 'dark' ? stored : undefined;
  } catch {
    return undefined;
  }
}

import { useSyncExternalStore } from 'react';

/** Where the tables show two lines a row and controls are made for fingers. */
export const NARROW = '(max-width: 700px)';
/** Row heights follow the tokens (tokens.css). */
const TOUCH = '(pointer: coarse), (max-width: 700px)';

/** Whether a media query holds now. */
export function useMedia(query: string): boolean {
  return useSyncExternalStore(
    (changed) => {
      const list = window.matchMedia(query);
      list.addEventListener('change', changed);
      return () => list.removeEventListener('change', changed);
    },
    () => window.matchMedia(query).matches,
  );
}

/** Height of a table row, pixels. */
export function useRowHeight(): number {
  return useMedia(TOUCH) ? 52 : 29;
}

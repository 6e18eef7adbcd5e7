import { useSyncExternalStore } from 'react';

/** Where the tables show two lines a row and controls are made for fingers. */
export const NARROW = '(max-width: 700px)';
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

/** Height of a table row of so many lines, pixels. */
export function useRowHeight(lineCount: 1 | 2): number {
  const touchPx = lineCount === 2 ? 52 : 44;
  return useMedia(TOUCH) ? touchPx : 29;
}

import type { ReactNode } from 'react';
import { mapWords } from './map-words.ts';

type DrawingBarProps = {
  readonly hint: string;
  readonly onCancelled: () => void;
  readonly children?: ReactNode;
};

/** What is to be done while an area is drawn, and how to end it without a keyboard. */
export function DrawingBar({ hint, onCancelled, children }: DrawingBarProps) {
  return (
    <div
      className="map-area-hint"
      role="toolbar"
      aria-label={mapWords.area.toolbar}
      // A press on it is no corner.
      onPointerDown={(event) => event.stopPropagation()}
      onPointerUp={(event) => event.stopPropagation()}
    >
      <span role="status">{hint}</span>
      {children}
      <button type="button" onClick={onCancelled}>
        {mapWords.area.cancel}
      </button>
    </div>
  );
}

import { type PointerEvent, useEffect, useReducer, useRef, useState } from 'react';
import type { LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { DrawingProps } from './area-drawing.tsx';
import { DrawingBar } from './drawing-bar.tsx';
import { mapWords } from './map-words.ts';

/** Fewer corners have no area. */
const LEAST_CORNERS = 3;
/** A click this near to the first corner closes the outline, as one on the last does. */
const CLOSE_PX = 12;

/** A pane over the map that takes an outline corner by corner. */
export function OutlineDrawing({ map, onArea, onCancelled }: DrawingProps) {
  const [corners, setCorners] = useState<readonly LonLat[]>([]);
  const pane = useRef<HTMLDivElement>(null);
  // Corners stay where they are on the map when it is zoomed.
  const [, redraw] = useReducer((count: number) => count + 1, 0);
  useEffect(() => {
    map.on('move', redraw);
    return () => {
      map.off('move', redraw);
    };
  }, [map]);
  const isEnough = corners.length >= LEAST_CORNERS;
  const finish = () => {
    const first = corners[0];
    if (isEnough && first !== undefined)
      onArea({ ring: [...corners, first].map(([lon, lat]): [number, number] => [lon, lat]) });
  };
  const takeBack = () => setCorners((before) => before.slice(0, -1));
  useKeys({ Escape: onCancelled, Enter: finish, Backspace: takeBack });

  const pixels = corners.map(([lon, lat]) => map.project([lon, lat]));
  const onUp = (event: PointerEvent) => {
    if (!event.isPrimary || event.button !== 0 || pane.current === null) return;
    const box = pane.current.getBoundingClientRect();
    const [x, y] = [event.clientX - box.left, event.clientY - box.top];
    const isOn = (corner: (typeof pixels)[number] | undefined) =>
      corner !== undefined && Math.hypot(corner.x - x, corner.y - y) < CLOSE_PX;
    if (isOn(pixels[0]) || isOn(pixels.at(-1))) return finish();
    const { lng, lat } = map.unproject([x, y]);
    setCorners([...corners, [lng, lat]]);
  };
  const points = pixels.map(({ x, y }) => `${x},${y}`).join(' ');
  return (
    <div
      ref={pane}
      className="map-area"
      role="application"
      aria-label={mapWords.area.outlineLabel}
      data-testid="outline-drawing"
      onPointerUp={onUp}
    >
      <svg className="map-outline" aria-hidden="true">
        <polygon points={points} />
        {pixels.map(({ x, y }, i) => (
          <circle key={`${corners[i]}`} cx={x} cy={y} r={i === 0 ? 6 : 4} />
        ))}
      </svg>
      <DrawingBar
        hint={corners.length === 0 ? mapWords.area.outlineHint : mapWords.area.corners(corners.length)}
        onCancelled={onCancelled}
      >
        <button type="button" disabled={!isEnough} onClick={finish}>
          {mapWords.area.done}
        </button>
        <button type="button" disabled={corners.length === 0} onClick={takeBack}>
          {mapWords.area.back}
        </button>
      </DrawingBar>
    </div>
  );
}

/** Keys of the whole window while it is there; those on the bar stay its buttons'. */
function useKeys(actions: Readonly<Record<string, () => void>>): void {
  const latest = useRef(actions);
  latest.current = actions;
  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      const action = latest.current[event.key];
      if (action === undefined) return;
      const { target } = event;
      const isOnBar = target instanceof Element && target.closest('[role="toolbar"]') !== null;
      if (event.key !== 'Escape' && isOnBar) return;
      event.preventDefault();
      event.stopPropagation();
      action();
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, []);
}

import type { MapLibreMap } from 'maplibre-gl';
import { type PointerEvent, useEffect, useRef, useState } from 'react';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { segmentLengthM } from '../../shared/geodesy/segment.ts';
import type { Area } from '../../shared/wire/survey.ts';
import { DrawingBar } from './drawing-bar.tsx';
import { mapWords } from './map-words.ts';

export type DrawingProps = {
  readonly map: MapLibreMap;
  readonly onArea: (area: Area) => void;
  readonly onCancelled: () => void;
};

type Pixel = { readonly x: number; readonly y: number };

/** Less than this is a click: it sets one corner, the next click the other. */
const CLICK_PX = 6;

/** A pane over the map that takes two corners: by a drag, or by two clicks. */
export function AreaDrawing({ map, onArea, onCancelled }: DrawingProps) {
  const [corners, setCorners] = useState<{ from: Pixel; to: Pixel } | undefined>();
  const pane = useRef<HTMLDivElement>(null);

  useEffect(() => {
    const onKey = (event: KeyboardEvent) => {
      if (event.key !== 'Escape') return;
      event.preventDefault();
      event.stopPropagation();
      onCancelled();
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, [onCancelled]);

  const pixelOf = (event: PointerEvent): Pixel => {
    const box = pane.current?.getBoundingClientRect();
    return { x: event.clientX - (box?.left ?? 0), y: event.clientY - (box?.top ?? 0) };
  };
  const onDown = (event: PointerEvent) => {
    if (!event.isPrimary || event.button !== 0) return;
    pane.current?.setPointerCapture(event.pointerId);
    const at = pixelOf(event);
    setCorners((before) => (before === undefined ? { from: at, to: at } : { from: before.from, to: at }));
  };
  const onMove = (event: PointerEvent) => {
    const to = pixelOf(event);
    if (event.isPrimary)
      setCorners((before) => (before === undefined ? undefined : { from: before.from, to }));
  };
  const onUp = (event: PointerEvent) => {
    if (!event.isPrimary || corners === undefined) return;
    const to = pixelOf(event);
    if (Math.abs(to.x - corners.from.x) < CLICK_PX || Math.abs(to.y - corners.from.y) < CLICK_PX) return;
    setCorners(undefined);
    onArea({ bbox: [...boxOf(map, corners.from, to)] });
  };

  return (
    <div
      ref={pane}
      className="map-area"
      role="application"
      aria-label={mapWords.area.label}
      data-testid="area-drawing"
      onPointerDown={onDown}
      onPointerMove={onMove}
      onPointerUp={onUp}
      onPointerCancel={() => setCorners(undefined)}
    >
      {corners !== undefined && <Rectangle map={map} from={corners.from} to={corners.to} />}
      <DrawingBar hint={mapWords.area.hint} onCancelled={onCancelled} />
    </div>
  );
}

function Rectangle({ map, from, to }: { map: MapLibreMap; from: Pixel; to: Pixel }) {
  const box = useRef<HTMLDivElement>(null);
  useEffect(() => {
    // By the object model: the page's policy allows no style attributes.
    const style = box.current?.style;
    if (style === undefined) return;
    style.left = `${Math.min(from.x, to.x)}px`;
    style.top = `${Math.min(from.y, to.y)}px`;
    style.width = `${Math.abs(to.x - from.x)}px`;
    style.height = `${Math.abs(to.y - from.y)}px`;
  }, [from, to]);
  const [west, south, east, north] = boxOf(map, from, to);
  const middle = (south + north) / 2;
  const widthKm = segmentLengthM([west, middle], [east, middle]) / 1000;
  const heightKm = segmentLengthM([west, south], [west, north]) / 1000;
  return (
    <div ref={box} className="map-area-box">
      <span>{mapWords.area.size(widthKm, heightKm)}</span>
    </div>
  );
}

function boxOf(map: MapLibreMap, from: Pixel, to: Pixel): BBox {
  const a = map.unproject([from.x, from.y]);
  const b = map.unproject([to.x, to.y]);
  return [Math.min(a.lng, b.lng), Math.min(a.lat, b.lat), Math.max(a.lng, b.lng), Math.max(a.lat, b.lat)];
}

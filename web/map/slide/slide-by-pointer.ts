import type { MapGeoJSONFeature, MapLibreMap, MapMouseEvent, MapTouchEvent } from 'maplibre-gl';
import type { BeaconId } from '../../../shared/placement/beacon.ts';
import type { Slide } from './create-slide.ts';

/** Moved less than this, it is a click. */
const CLICK_PX = 4;

/** Dragging a beacon of the design with mouse or finger; Escape gives up. Returns how to stop. */
export function slideByPointer(map: MapLibreMap, slide: Slide): () => void {
  let stopDrag: (() => void) | undefined;
  const onDown = (event: MapMouseEvent | MapTouchEvent) => {
    stopDrag?.();
    const beacon = isPlain(event.originalEvent) ? findNearestBeacon(map, event.point) : undefined;
    if (beacon?.geometry.type !== 'Point') return;
    // Keeps the map where it is.
    event.preventDefault();
    const [lon, lat] = beacon.geometry.coordinates as [number, number];
    const place = map.project([lon, lat]);
    // The beacon keeps its distance to the pointer: it does not jump when it is taken hold of.
    const grip = { x: place.x - event.point.x, y: place.y - event.point.y };
    stopDrag = followDrag(map, slide, beacon.properties.beacon as BeaconId, event.point, grip);
  };
  map.on('mousedown', onDown);
  map.on('touchstart', onDown);
  return () => {
    stopDrag?.();
    map.off('mousedown', onDown);
    map.off('touchstart', onDown);
  };
}

/** The beacon of the design nearest to a point, among those within reach; several overlap far out. */
export function findNearestBeacon(
  map: MapLibreMap,
  point: { readonly x: number; readonly y: number },
): MapGeoJSONFeature | undefined {
  if (map.getLayer('design-beacon-hit') === undefined) return undefined;
  const found = map.queryRenderedFeatures([point.x, point.y], { layers: ['design-beacon-hit'] });
  const distanceOf = (feature: MapGeoJSONFeature) => {
    if (feature.geometry.type !== 'Point') return Number.POSITIVE_INFINITY;
    const at = map.project(feature.geometry.coordinates as [number, number]);
    return Math.hypot(at.x - point.x, at.y - point.y);
  };
  return found.map((feature) => ({ feature, px: distanceOf(feature) })).sort((a, b) => a.px - b.px)[0]
    ?.feature;
}

type Pixel = { readonly x: number; readonly y: number };

function followDrag(map: MapLibreMap, slide: Slide, id: BeaconId, from: Pixel, grip: Pixel): () => void {
  let hasBegun = false;
  let frame = 0;
  let latest: Pixel = from;
  const step = () => {
    frame = 0;
    const { lng, lat } = map.unproject([latest.x + grip.x, latest.y + grip.y]);
    slide.moveTo([lng, lat]);
  };
  const onMove = (event: MouseEvent | TouchEvent) => {
    latest = pixelOf(map, 'touches' in event ? event.touches[0] : event) ?? latest;
    if (!hasBegun) {
      if (Math.hypot(latest.x - from.x, latest.y - from.y) < CLICK_PX) return;
      hasBegun = slide.begin(id, 'position');
      if (!hasBegun) return stop();
      map.getCanvas().style.cursor = 'grabbing';
    }
    if (frame === 0) frame = requestAnimationFrame(step);
  };
  const onUp = () => {
    if (hasBegun) {
      // What the last frame did not draw yet belongs to the edit.
      if (frame !== 0) step();
      slide.finish();
    }
    stop();
  };
  const onKey = (event: KeyboardEvent) => {
    if (event.key !== 'Escape' || !hasBegun) return;
    event.preventDefault();
    event.stopPropagation();
    slide.cancel();
    stop();
  };
  const onLost = () => {
    slide.cancel();
    stop();
  };
  const onSecondFinger = (event: TouchEvent) => {
    if (event.touches.length > 1) onLost();
  };
  const listening = new AbortController();
  const options = { signal: listening.signal, capture: true } as const;
  const stop = () => {
    cancelAnimationFrame(frame);
    listening.abort();
    map.getCanvas().style.cursor = '';
  };
  window.addEventListener('mousemove', onMove, options);
  window.addEventListener('touchmove', onMove, options);
  window.addEventListener('mouseup', onUp, options);
  window.addEventListener('touchend', onUp, options);
  window.addEventListener('touchcancel', onLost, options);
  window.addEventListener('touchstart', onSecondFinger, options);
  window.addEventListener('keydown', onKey, options);
  return stop;
}

function isPlain(event: MouseEvent | TouchEvent): boolean {
  return 'touches' in event ? event.touches.length === 1 : event.button === 0 && !event.shiftKey;
}

function pixelOf(
  map: MapLibreMap,
  at: { readonly clientX: number; readonly clientY: number } | undefined,
): Pixel | undefined {
  if (at === undefined) return undefined;
  const box = map.getCanvas().getBoundingClientRect();
  return { x: at.clientX - box.left, y: at.clientY - box.top };
}

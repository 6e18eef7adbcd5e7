import type { MapLibreMap } from 'maplibre-gl';
import type { MapViewProps } from '../map-types.ts';
import type { Slide } from './create-slide.ts';

const STEP_M = 1;
const BIG_STEP_M = 10;

/**
 * Left and right move the selected beacon while the map has the focus, with Shift in bigger steps; Escape gives up,
 * or lets go of the selection. A held key is one edit. Returns how to stop.
 */
export function slideByKeys(
  map: MapLibreMap,
  container: HTMLElement,
  getProps: () => MapViewProps,
  slide: Slide,
): () => void {
  let isByKeys = false;
  const finish = () => {
    if (isByKeys) slide.finish();
    isByKeys = false;
  };
  const onDown = (event: KeyboardEvent) => {
    const { selectedBeacon, drawing } = getProps();
    if (event.target !== map.getCanvas() || drawing !== undefined || selectedBeacon === undefined) return;
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const way = { ArrowLeft: -1, ArrowRight: 1 }[event.key];
    if (way !== undefined) {
      if (!slide.isActive()) isByKeys = slide.begin(selectedBeacon, 'chainage');
      if (isByKeys) slide.moveBy(way * (event.shiftKey ? BIG_STEP_M : STEP_M));
    } else if (event.key === 'Escape') {
      if (slide.isActive()) slide.cancel();
      else getProps().onSelectBeacon(undefined);
      isByKeys = false;
    } else {
      return;
    }
    // Before the map itself moves.
    event.preventDefault();
    event.stopPropagation();
  };
  const onUp = (event: KeyboardEvent) => {
    if (event.key === 'ArrowLeft' || event.key === 'ArrowRight') finish();
  };
  container.addEventListener('keydown', onDown, true);
  window.addEventListener('keyup', onUp);
  container.addEventListener('focusout', finish);
  return () => {
    container.removeEventListener('keydown', onDown, true);
    window.removeEventListener('keyup', onUp);
    container.removeEventListener('focusout', finish);
  };
}

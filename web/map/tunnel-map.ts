import type { MapLibreMap } from 'maplibre-gl';
import { applyFilters, applyProps, setData, toFilterState } from './apply-props.ts';
import { addBasemap } from './basemap.ts';
import { goTo, showSurvey } from './go-to.ts';
import type { MapViewProps } from './map-types.ts';
import { addAttribution, openMap } from './open-map.ts';
import { followPointer } from './pointer.ts';
import { createSelectedTag } from './selected-tag.ts';
import { createSlide } from './slide/create-slide.ts';
import { slideByKeys } from './slide/slide-by-keys.ts';
import { slideByPointer } from './slide/slide-by-pointer.ts';
import type { FilterState } from './style/to-filter.ts';

export type TunnelMap = {
  /** Brings the map to these props; cheap where nothing changed. */
  update(props: MapViewProps): void;
  readonly map: MapLibreMap;
  destroy(): void;
};

/** The elements that the map fills: itself, and the tag beside the selected beacon. */
export type MapElements = { readonly container: HTMLElement; readonly tag: HTMLElement };

/** Opens the map and keeps it at the latest props. Throws where the browser has no WebGL 2. */
export function createTunnelMap({ container, tag }: MapElements, first: MapViewProps): TunnelMap {
  const map = openMap(container, first);
  let props = first;
  let applied: MapViewProps | undefined;
  let isReady = false;
  let removeBasemap: (() => void) | undefined;
  let attribution = addAttribution(map, first.demo);
  const getProps = () => props;
  const selectedTag = createSelectedTag(map, tag, getProps);
  const slide = createSlide(getProps, (state) => {
    setData(map, 'sliding-beacon', state?.shown);
    filter(state?.id);
    selectedTag.place(state);
  });
  let filtered: FilterState | undefined;
  const filter = (slidingBeacon: string | undefined) => {
    const state = toFilterState(props, slidingBeacon);
    applyFilters(map, state, filtered);
    filtered = state;
  };

  const apply = () => {
    if (!isReady) return;
    const before = applied;
    applied = props;
    container.dataset.mapIdle = 'false';
    if (before !== undefined && before.demo !== props.demo) {
      map.removeControl(attribution);
      attribution = addAttribution(map, props.demo);
    }
    applyProps(map, props, before);
    if (before?.design !== props.design) slide.onDesign();
    filter(slide.state()?.id);
    if (before?.basemapStyleUrl !== props.basemapStyleUrl) {
      removeBasemap?.();
      removeBasemap = undefined;
      if (props.basemapStyleUrl !== undefined) {
        removeBasemap = addBasemap(map, props.basemapStyleUrl, (reason) => props.onBasemapFailed(reason));
      }
    }
    selectedTag.place(slide.state());
    if (props.focus !== undefined && props.focus.key !== before?.focus?.key) goTo(map, props.focus);
    else if (before?.layers === undefined && props.initialPosition === undefined && props.focus === undefined)
      showSurvey(map, props.layers);
    // Nothing may have changed on screen: the map shall say that it is idle all the same.
    map.triggerRepaint();
  };

  map.on('style.load', () => {
    isReady = true;
    apply();
  });
  map.on('dataloading', () => setIdle(container, false));
  map.on('movestart', () => setIdle(container, false));
  map.on('idle', () => setIdle(container, isReady));
  map.on('moveend', () => {
    const { lng, lat } = map.getCenter();
    props.onMoved({ lon: lng, lat, zoom: map.getZoom() });
  });
  const stops = [
    followPointer(map, getProps),
    slideByPointer(map, slide),
    slideByKeys(map, container, getProps, slide),
  ];
  return {
    map,
    update(next) {
      props = next;
      apply();
    },
    destroy() {
      for (const stop of stops) stop();
      slide.dispose();
      removeBasemap?.();
      map.remove();
    },
  };
}

function setIdle(container: HTMLElement, isIdle: boolean): void {
  container.dataset.mapIdle = String(isIdle);
}

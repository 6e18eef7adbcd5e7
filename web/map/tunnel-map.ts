import type { FeatureCollection } from 'geojson';
import type { GeoJSONSource, MapLibreMap } from 'maplibre-gl';
import { addBasemap } from './basemap.ts';
import { COLOURS } from './colours.ts';
import { diffFeatures } from './features/diff-features.ts';
import { toBranches } from './features/to-branches.ts';
import { withOuterSea } from './features/to-outer-sea.ts';
import { toBores, toComplexLabels, toPortals } from './features/to-tunnel-data.ts';
import { goTo, showSurvey } from './go-to.ts';
import { ICONS } from './icons/list-icons.ts';
import { ICON_RATIO, paintIcon } from './icons/paint-icon.ts';
import type { MapViewProps } from './map-types.ts';
import { openMap } from './open-map.ts';
import { followPointer } from './pointer.ts';
import { createSelectedTag } from './selected-tag.ts';
import { createSlide } from './slide/create-slide.ts';
import { slideByKeys } from './slide/slide-by-keys.ts';
import { slideByPointer } from './slide/slide-by-pointer.ts';
import { listLayers } from './style/build-style.ts';
import type { SourceId } from './style/source-ids.ts';
import { toFilter } from './style/to-filter.ts';

export type TunnelMap = {
  /** Brings the map to these props; cheap where nothing changed. */
  update(props: MapViewProps): void;
  readonly map: MapLibreMap;
  destroy(): void;
};

/** The elements that the map fills: itself, and the tag beside the selected beacon. */
export type MapElements = { readonly container: HTMLElement; readonly tag: HTMLElement };

const EMPTY: FeatureCollection = { type: 'FeatureCollection', features: [] };

/** Opens the map and keeps it at the latest props. Throws where the browser has no WebGL 2. */
export function createTunnelMap({ container, tag }: MapElements, first: MapViewProps): TunnelMap {
  const map = openMap(container, first);
  let props = first;
  let applied: MapViewProps | undefined;
  let isReady = false;
  let removeBasemap: (() => void) | undefined;
  const getProps = () => props;
  const selectedTag = createSelectedTag(map, tag, getProps);
  const slide = createSlide(getProps, (state) => {
    setData(map, 'sliding-beacon', state === undefined ? EMPTY : state.shown);
    applyFilters(map, props, state?.id);
    selectedTag.place(state);
  });

  const apply = () => {
    if (!isReady) return;
    const before = applied;
    applied = props;
    container.dataset.mapIdle = 'false';
    if (before?.theme !== props.theme) applyTheme(map, props.theme, before === undefined);
    applyLayers(map, props, before);
    applyDesign(map, props, before);
    if (before?.design !== props.design) slide.onDesign();
    applyFilters(map, props, slide.state()?.id);
    applyShow(map, props);
    applyStates(map, props, before);
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

function setData(map: MapLibreMap, id: SourceId, data: FeatureCollection): void {
  map.getSource<GeoJSONSource>(id)?.setData(data);
}

/** New colours on the layers that are there: sources, filters and what is selected stay. */
function applyTheme(map: MapLibreMap, theme: MapViewProps['theme'], isFirst: boolean): void {
  const colours = COLOURS[theme];
  for (const icon of ICONS) {
    const image = paintIcon(icon, colours);
    if (map.hasImage(icon.name)) map.updateImage(icon.name, image);
    else map.addImage(icon.name, image, { pixelRatio: ICON_RATIO });
  }
  if (isFirst) return;
  for (const layer of listLayers(colours)) {
    for (const [name, value] of Object.entries(layer.paint ?? {})) {
      map.setPaintProperty(layer.id, name as never, value as never);
    }
  }
}

function applyLayers(map: MapLibreMap, { layers }: MapViewProps, before: MapViewProps | undefined): void {
  const was = before?.layers;
  if (layers === was) return;
  const changed = (name: keyof NonNullable<typeof layers>) => layers?.[name] !== was?.[name];
  if (changed('context'))
    setData(map, 'context', layers === undefined ? EMPTY : withOuterSea(layers.context));
  if (changed('bores') || changed('complexes')) {
    setData(map, 'bores', layers === undefined ? EMPTY : toBores(layers));
  }
  if (changed('complexes')) {
    setData(map, 'complex-labels', layers === undefined ? EMPTY : toComplexLabels(layers.complexes));
  }
  if (changed('portals')) setData(map, 'portals', layers === undefined ? EMPTY : toPortals(layers.portals));
  if (changed('decisions')) {
    setData(map, 'decisions', layers?.decisions ?? EMPTY);
    setData(map, 'branches', layers === undefined ? EMPTY : toBranches(layers.decisions));
  }
  if (changed('beacons')) setData(map, 'beacons', layers?.beacons ?? EMPTY);
  if (changed('findings')) setData(map, 'findings', layers?.findings ?? EMPTY);
}

/** Within one tunnel only what changed is sent: it is asked for at every step of a drag. */
function applyDesign(map: MapLibreMap, { design }: MapViewProps, before: MapViewProps | undefined): void {
  const was = before?.design;
  if (design === was) return;
  const isSame = design?.network.complex.id === was?.network.complex.id;
  for (const [id, name] of [
    ['design-beacons', 'beacons'],
    ['design-coverage', 'coverage'],
  ] as const) {
    const source = map.getSource<GeoJSONSource>(id);
    if (design === undefined || was === undefined || !isSame) {
      source?.setData(design?.[name] ?? EMPTY);
    } else {
      const diff = diffFeatures(was[name], design[name]);
      if (diff !== undefined) source?.updateData(diff);
    }
  }
}

function applyFilters(map: MapLibreMap, props: MapViewProps, slidingBeacon: string | undefined): void {
  const state = { ...props, designComplex: props.design?.network.complex.id, slidingBeacon };
  for (const layer of LAYERS) {
    const filter = toFilter(layer, state);
    if (filter !== undefined) map.setFilter(layer.id, filter);
  }
}

/** For their filters only, which have no colours. */
const LAYERS = listLayers(COLOURS.light);

function applyShow(map: MapLibreMap, { show }: MapViewProps): void {
  const toggle = (id: string, isShown: boolean) =>
    map.setLayoutProperty(id, 'visibility', isShown ? 'visible' : 'none');
  toggle('coverage', show.coverage);
  toggle('coverage-edge', show.coverage);
  toggle('findings', show.findings);
}

function applyStates(map: MapLibreMap, props: MapViewProps, before: MapViewProps | undefined): void {
  for (const [state, id, was] of [
    ['selected', props.selectedComplex, before?.selectedComplex],
    ['hovered', props.hoveredComplex, before?.hoveredComplex],
  ] as const) {
    if (id === was) continue;
    if (was !== undefined) map.setFeatureState({ source: 'bores', id: was }, { [state]: false });
    if (id !== undefined) map.setFeatureState({ source: 'bores', id }, { [state]: true });
  }
}

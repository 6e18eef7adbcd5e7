import {
  AttributionControl,
  addProtocol,
  MapLibreMap,
  type MapOptions,
  NavigationControl,
  ScaleControl,
  setWorkerUrl,
} from 'maplibre-gl';
import workerUrl from 'maplibre-gl/dist/maplibre-gl-worker.mjs?worker&url';
import { COLOURS } from './colours.ts';
import type { MapViewProps } from './map-types.ts';
import { mapWords } from './map-words.ts';
import { buildStyle } from './style/build-style.ts';
import { getFontFaces } from './style/fonts.ts';
import { NO_TILES_PROTOCOL } from './tile-url.ts';

/** An empty map in a container, north up. Throws where the browser has no WebGL 2. */
export function openMap(container: HTMLElement, props: MapViewProps): MapLibreMap {
  setWorkerUrl(workerUrl);
  addProtocol(...NO_TILES_PROTOCOL);
  const at = props.initialPosition;
  const options: MapOptions = {
    container,
    style: buildStyle(COLOURS[props.theme], getFontFaces(document.baseURI)),
    center: at === undefined ? [0, 30] : [at.lon, at.lat],
    zoom: at?.zoom ?? 2,
    maxZoom: 20,
    attributionControl: false,
    // Arrows, signs and chainage are read north up.
    dragRotate: false,
    pitchWithRotate: false,
    touchPitch: false,
    maxPitch: 0,
    renderWorldCopies: false,
    fadeDuration: 0,
    locale: {
      'Map.Title': mapWords.mapLabel,
      'NavigationControl.ZoomIn': mapWords.zoomIn,
      'NavigationControl.ZoomOut': mapWords.zoomOut,
    },
  };
  const map = new MapLibreMap(options);
  map.touchZoomRotate.disableRotation();
  map.keyboard.disableRotation();
  map.addControl(new NavigationControl({ showCompass: false }), 'top-right');
  map.addControl(new ScaleControl({ unit: 'metric', maxWidth: 110 }), 'bottom-right');
  return map;
}

/** Where the data are from: always on the map, never folded away. */
export function addAttribution(map: MapLibreMap, isDemo: boolean): AttributionControl {
  const sources = [OSM, ...(isDemo ? [mapWords.demoNote] : [])];
  const control = new AttributionControl({ compact: false, customAttribution: sources });
  map.addControl(control, 'bottom-right');
  return control;
}

const OSM =
  '<a href="https://www.openstreetmap.org/copyright" target="_blank" rel="noopener">© OpenStreetMap contributors</a>';

import type { FeatureCollection, MultiLineString } from 'geojson';
import { LngLatBounds, type MapLibreMap } from 'maplibre-gl';
import type { MapFocus, SurveyLayers } from './map-types.ts';

/** Closest that a short tunnel is shown: with the streets around it. */
const CLOSEST_ZOOM = 17;
const BEACON_ZOOM = 17;

/** Moves to what the shell asks for; at once where the user wants no motion. */
export function goTo(map: MapLibreMap, focus: MapFocus): void {
  // The panel may have made room just now: the map itself hears of it only after this.
  map.resize();
  const motion = wantsStill() ? { duration: 0 } : {};
  if (focus.bbox !== undefined) {
    const [west, south, east, north] = focus.bbox;
    const bounds: [number, number, number, number] = [west, south, east, north];
    map.fitBounds(bounds, { padding: paddingOf(map), maxZoom: CLOSEST_ZOOM, ...motion });
  } else if (focus.at !== undefined) {
    const [lon, lat] = focus.at;
    const zoom = Math.max(map.getZoom(), BEACON_ZOOM);
    map.easeTo({ center: [lon, lat], zoom, ...motion });
  }
}

/** The whole survey, where nobody asked for a place yet. */
export function showSurvey(map: MapLibreMap, layers: SurveyLayers | undefined): void {
  const bounds = boundsOf(layers?.complexes);
  if (bounds !== undefined) map.fitBounds(bounds, { padding: paddingOf(map), maxZoom: 15, duration: 0 });
}

function boundsOf(complexes: FeatureCollection | undefined): LngLatBounds | undefined {
  const positions = (complexes?.features ?? []).flatMap((complex) =>
    (complex.geometry as MultiLineString).coordinates.flat(),
  );
  if (positions.length === 0) return undefined;
  return positions.reduce(
    (bounds, at) => bounds.extend([at[0] as number, at[1] as number]),
    new LngLatBounds(),
  );
}

/** Clear of the buttons, the legend and the attribution. */
function paddingOf(map: MapLibreMap) {
  const { clientWidth, clientHeight } = map.getContainer();
  const side = Math.min(72, clientWidth * 0.14);
  return {
    left: side,
    right: side,
    top: Math.min(64, clientHeight * 0.12),
    bottom: Math.min(88, clientHeight * 0.2),
  };
}

function wantsStill(): boolean {
  return window.matchMedia('(prefers-reduced-motion: reduce)').matches;
}

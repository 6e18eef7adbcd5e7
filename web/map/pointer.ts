import type { MapGeoJSONFeature, MapLibreMap, MapMouseEvent, PointLike } from 'maplibre-gl';
import type { BeaconId } from '../../shared/placement/beacon.ts';
import type { MapViewProps } from './map-types.ts';
import { findNearestBeacon } from './slide/slide-by-pointer.ts';

/** What a click or the pointer means a tunnel by, apart from its own beacons. */
const TUNNEL_LAYERS = [
  'bore-hit',
  'complex-label',
  'complex-along',
  'complex-exit-badge',
  'programme-year',
  'programme-out',
  'portals',
  'decisions',
  'decisions-after-portal',
  'exits',
  'exit-signs',
  'beacon-icons',
];

/** Hover and click on tunnels and beacons; returns how to stop. */
export function followPointer(map: MapLibreMap, getProps: () => MapViewProps): () => void {
  let hovered: string | undefined;
  let frame = 0;
  const hover = (id: string | undefined) => {
    if (id === hovered) return;
    hovered = id;
    getProps().onHoverComplex(id);
  };
  const onMove = (event: MapMouseEvent) => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(() => {
      if (map.isMoving() || getProps().drawing !== undefined) return;
      const beacon = findNearestBeacon(map, event.point);
      const complex = findComplex(map, event, getProps().selectedComplex);
      map.getCanvas().style.cursor = beacon !== undefined ? 'grab' : complex === undefined ? '' : 'pointer';
      hover(complex);
    });
  };
  const onOut = () => {
    cancelAnimationFrame(frame);
    hover(undefined);
  };
  const onClick = (event: MapMouseEvent) => {
    const beacon = findNearestBeacon(map, event.point);
    if (beacon !== undefined) {
      getProps().onSelectBeacon(beacon.properties.beacon as BeaconId);
      return;
    }
    const complex = findComplex(map, event, getProps().selectedComplex);
    if (complex !== undefined) getProps().onSelectComplex(complex);
  };
  map.on('mousemove', onMove);
  map.on('mouseout', onOut);
  map.on('click', onClick);
  return () => {
    cancelAnimationFrame(frame);
    map.off('mousemove', onMove);
    map.off('mouseout', onOut);
    map.off('click', onClick);
  };
}

/** The tunnel at a point: the topmost, but the selected one where it lies there too. */
function findComplex(map: MapLibreMap, { point }: MapMouseEvent, selected: string | undefined) {
  const found = query(map, point).map((feature) => String(feature.properties.complex));
  return selected !== undefined && found.includes(selected) ? selected : found[0];
}

function query(map: MapLibreMap, point: PointLike): MapGeoJSONFeature[] {
  return map.isStyleLoaded() === undefined ? [] : map.queryRenderedFeatures(point, { layers: TUNNEL_LAYERS });
}

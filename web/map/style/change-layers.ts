import type { FilterSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';
import type { ChangePart } from '../features/to-change-features.ts';

/**
 * What a newer extract would change: the old line thin and broken, the new one broad and whole. Where nothing moved
 * the one lies on the other. Told apart by their drawing, not by colour alone.
 */
export function listChangeLayers(colours: MapColours): LayerSpecification[] {
  const line = (id: string, part: ChangePart) =>
    ({
      id,
      type: 'line',
      source: 'changes',
      filter: isPart(part),
      layout: { 'line-join': 'round' },
    }) as const;
  return [
    {
      ...line('change-after-casing', 'after'),
      paint: { 'line-color': colours.paper, 'line-width': 8, 'line-opacity': 0.9 },
    },
    { ...line('change-after', 'after'), paint: { 'line-color': colours.exit, 'line-width': 5 } },
    {
      ...line('change-before-casing', 'before'),
      paint: { 'line-color': colours.paper, 'line-width': 2.5 },
    },
    {
      ...line('change-before', 'before'),
      paint: { 'line-color': colours.undesigned, 'line-width': 2, 'line-dasharray': [3, 2] },
    },
    {
      ...line('change-shift', 'shift'),
      minzoom: NEAR_ZOOM,
      paint: { 'line-color': colours.ink, 'line-width': 1.5 },
    },
    {
      id: 'change-new-place',
      type: 'circle',
      source: 'changes',
      minzoom: NEAR_ZOOM,
      filter: isPart('new-place'),
      paint: {
        'circle-radius': RADIUS,
        'circle-color': colours.exit,
        'circle-stroke-color': colours.paper,
        'circle-stroke-width': 1.5,
      },
    },
    {
      id: 'change-gone-place',
      type: 'circle',
      source: 'changes',
      minzoom: NEAR_ZOOM,
      filter: isPart('gone-place'),
      paint: {
        'circle-radius': ['interpolate', ['linear'], ['zoom'], 13, 3, 17, 9],
        'circle-color': colours.paper,
        'circle-opacity': 0,
        'circle-stroke-color': colours.error,
        'circle-stroke-width': 2,
      },
    },
  ];
}

/** Farther out the places of beacons run together. */
const NEAR_ZOOM = 13;
const RADIUS = ['interpolate', ['linear'], ['zoom'], 13, 2, 17, 5.5] as never;

function isPart(part: ChangePart): FilterSpecification {
  return ['==', ['get', 'part'], part];
}

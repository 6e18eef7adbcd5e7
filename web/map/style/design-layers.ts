import type { ExpressionSpecification, FilterSpecification, LayerSpecification } from 'maplibre-gl';
import type { TileLayer } from '../../../shared/tiles/tile-layer.ts';
import type { MapColours } from '../colours.ts';
import { REGULAR } from './font-names.ts';
import { TILE_SOURCE } from './source-ids.ts';

/** Zoom from which a beacon is a diamond that can be taken hold of; farther out it is a dot. */
export const BEACON_ICON_ZOOM = 14;

/** Coverage and beacons: those of the survey, and over them those of the tunnel that is being designed. */
export function listDesignLayers(colours: MapColours): LayerSpecification[] {
  return [
    {
      id: 'coverage',
      type: 'fill',
      source: 'design-coverage',
      minzoom: 12,
      paint: { 'fill-color': colours.coverage, 'fill-opacity': 0.2 },
    },
    {
      id: 'coverage-edge',
      type: 'line',
      source: 'design-coverage',
      minzoom: 15,
      paint: { 'line-color': colours.coverage, 'line-opacity': 0.55, 'line-width': 1 },
    },
    // A bar along the wall; from near it is hatched, which tells it from a line without its colour.
    {
      id: 'keep-outs',
      type: 'line',
      source: 'design-keep-outs',
      minzoom: 13,
      layout: { 'line-cap': 'round', 'line-join': 'round' },
      paint: { 'line-color': colours.keepOut, 'line-width': KEEP_OUT_WIDTH },
    },
    {
      id: 'keep-out-hatch',
      type: 'line',
      source: 'design-keep-outs',
      minzoom: 16,
      paint: { 'line-color': colours.paper, 'line-width': HATCH_WIDTH, 'line-dasharray': [0.35, 0.5] },
    },
    dots('beacon-dots', IN_TILES, colours),
    icons('beacon-icons', IN_TILES),
    dots('design-beacon-dots', { source: 'design-beacons' }, colours),
    {
      id: 'design-beacon-halo',
      type: 'circle',
      source: 'design-beacons',
      paint: {
        'circle-radius': 14,
        'circle-color': colours.selected,
        'circle-opacity': 0.45,
        'circle-stroke-color': colours.selected,
        'circle-stroke-width': 1.5,
      },
    },
    icons('design-beacon-icons', { source: 'design-beacons' }),
    icons('design-beacon-selected', { source: 'design-beacons' }, 1.45),
    {
      id: 'sliding-beacon-halo',
      type: 'circle',
      source: 'sliding-beacon',
      paint: {
        'circle-radius': 16,
        'circle-color': colours.selected,
        'circle-opacity': 0.45,
        'circle-stroke-color': colours.selected,
        'circle-stroke-width': 2,
      },
    },
    icons('sliding-beacon', { source: 'sliding-beacon' }, 1.45),
    {
      id: 'design-beacon-chainage',
      type: 'symbol',
      source: 'design-beacons',
      minzoom: 16.5,
      layout: {
        'text-field': CHAINAGE,
        'text-font': [REGULAR],
        'text-size': 11,
        'text-anchor': 'left',
        'text-offset': [0.9, 0],
        'text-padding': 3,
      },
      paint: { 'text-color': colours.ink, 'text-halo-color': colours.labelHalo, 'text-halo-width': 1.4 },
    },
    {
      id: 'design-beacon-hit',
      type: 'circle',
      source: 'design-beacons',
      minzoom: BEACON_ICON_ZOOM,
      paint: { 'circle-radius': 16, 'circle-color': '#000', 'circle-opacity': 0 },
    },
  ];
}

const KEEP_OUT_WIDTH: ExpressionSpecification = ['interpolate', ['linear'], ['zoom'], 13, 3, 16, 6, 19, 14];
const HATCH_WIDTH: ExpressionSpecification = ['interpolate', ['linear'], ['zoom'], 16, 3, 19, 9];

/** Metres to `0+340`; the same as format-chainage.ts, for labels that the map draws itself. */
const CHAINAGE: ExpressionSpecification = [
  'let',
  'm',
  ['round', ['get', 'chainageM']],
  [
    'concat',
    ['to-string', ['floor', ['/', ['var', 'm'], 1000]]],
    '+',
    ['case', ['<', ['%', ['var', 'm'], 1000], 100], '0', ''],
    ['case', ['<', ['%', ['var', 'm'], 1000], 10], '0', ''],
    ['to-string', ['%', ['var', 'm'], 1000]],
  ],
];

/** Where a layer's features are. */
type From = { readonly source: string; readonly 'source-layer'?: TileLayer };
const IN_TILES: From = { source: TILE_SOURCE, 'source-layer': 'beacons' };

function dots(id: string, from: From, colours: MapColours): LayerSpecification {
  return {
    id,
    type: 'circle',
    ...from,
    minzoom: 12.5,
    maxzoom: BEACON_ICON_ZOOM,
    paint: {
      'circle-radius': ['interpolate', ['linear'], ['zoom'], 12, 0.9, 14, 2.2],
      'circle-color': colours.paper,
      'circle-stroke-color': colours.beacon,
      'circle-stroke-width': 0.9,
    },
  };
}

function icons(id: string, from: From, scale = 1, filter?: FilterSpecification): LayerSpecification {
  return {
    id,
    type: 'symbol',
    ...from,
    minzoom: BEACON_ICON_ZOOM,
    ...(filter === undefined ? {} : { filter }),
    layout: {
      'icon-image': ['concat', 'beacon-', ['get', 'role']],
      'icon-allow-overlap': true,
      'icon-ignore-placement': true,
      'icon-size': ['interpolate', ['linear'], ['zoom'], 14, 0.62 * scale, 16, scale, 19, 1.3 * scale],
      // What guides a driver lies over what only fills a gap.
      'symbol-sort-key': ['match', ['get', 'role'], 'spacing', 0, 'portal', 1, 2],
    },
  };
}

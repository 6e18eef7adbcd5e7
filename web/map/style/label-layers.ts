import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';
import { BOLD, ITALIC, REGULAR } from './font-names.ts';

/** Names of water, parks, roads and places, lowest in rank first. */
export function listLabelLayers(colours: MapColours): LayerSpecification[] {
  const halo = { 'text-halo-color': colours.labelHalo, 'text-halo-width': 1.4, 'text-halo-blur': 0.4 };
  const along = (id: string, minzoom: number, classes: string[], size: ExpressionSpecification) =>
    ({
      id,
      type: 'symbol',
      source: 'context',
      minzoom,
      filter: [
        'all',
        ['==', ['geometry-type'], 'LineString'],
        ['in', ['get', 'highway'], ['literal', classes]],
        ['!', ['has', 'tunnel']],
      ],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 380,
        'text-field': ['coalesce', ['get', 'name'], ['get', 'ref'], ''],
        'text-font': [REGULAR],
        'text-size': size,
        'text-letter-spacing': 0.02,
        'text-padding': 4,
        'text-max-angle': 30,
      },
      paint: { 'text-color': colours.roadLabel, ...halo },
    }) satisfies LayerSpecification;
  return [
    along(
      'name-minor',
      15.2,
      ['residential', 'unclassified', 'living_street', 'service'],
      grow(15, 10, 18, 13),
    ),
    along('name-tertiary', 14, ['tertiary'], grow(14, 10.5, 18, 13.5)),
    along('name-main', 13, ['primary', 'secondary'], grow(13, 10.5, 18, 14)),
    along('name-motorway', 12.5, ['motorway', 'trunk'], grow(12, 10.5, 18, 14)),
    {
      id: 'name-waterway',
      type: 'symbol',
      source: 'context',
      minzoom: 12,
      filter: ['all', ['==', ['geometry-type'], 'LineString'], ['has', 'waterway'], ['!', ['has', 'tunnel']]],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 500,
        'text-field': ['coalesce', ['get', 'name'], ''],
        'text-font': [ITALIC],
        'text-size': 12.5,
        'text-letter-spacing': 0.12,
        'text-max-angle': 30,
      },
      paint: { 'text-color': colours.waterLabel, 'text-halo-color': colours.water, 'text-halo-width': 1 },
    },
    {
      id: 'name-area',
      type: 'symbol',
      source: 'context',
      minzoom: 13,
      filter: [
        'all',
        ['==', ['geometry-type'], 'Polygon'],
        [
          'any',
          ['has', 'leisure'],
          ['all', ['==', ['get', 'natural'], 'water'], ['!', ['has', 'boremark:sea']]],
        ],
      ],
      layout: {
        'text-field': ['coalesce', ['get', 'name'], ''],
        'text-font': [ITALIC],
        'text-size': 11.5,
        'text-max-width': 7,
      },
      paint: {
        'text-color': ['case', ['has', 'natural'], colours.waterLabel, colours.roadLabel],
        ...halo,
      },
    },
    ...listPlaceLayers(colours, halo),
  ];
}

function listPlaceLayers(colours: MapColours, halo: object): LayerSpecification[] {
  const place = (
    id: string,
    [minzoom, maxzoom]: [number, number],
    ranks: string[],
    layout: object,
  ): LayerSpecification => ({
    id,
    type: 'symbol',
    source: 'context',
    minzoom,
    maxzoom,
    filter: ['all', ['==', ['geometry-type'], 'Point'], ['in', ['get', 'place'], ['literal', ranks]]],
    layout: {
      'text-field': ['coalesce', ['get', 'name'], ''],
      'text-max-width': 8,
      'text-padding': 6,
      ...layout,
    },
    paint: { 'text-color': colours.placeLabel, ...halo },
  });
  return [
    place('place-quarter', [13, 17], ['quarter', 'neighbourhood', 'hamlet'], {
      'text-font': [REGULAR],
      'text-size': 11.5,
      'text-letter-spacing': 0.06,
    }),
    place('place-suburb', [11.3, 16], ['suburb', 'village'], {
      'text-font': [REGULAR],
      'text-size': grow(11, 11, 15, 15),
      'text-letter-spacing': 0.06,
    }),
    place('place-town', [9, 16], ['town', 'island'], {
      'text-font': [BOLD],
      'text-size': grow(9, 12, 14, 16),
    }),
    place('place-city', [4, 14], ['city'], {
      'text-font': [BOLD],
      'text-size': grow(6, 14, 13, 23),
      'text-letter-spacing': 0.03,
    }),
  ];
}

function grow(fromZoom: number, fromPx: number, toZoom: number, toPx: number): ExpressionSpecification {
  return ['interpolate', ['linear'], ['zoom'], fromZoom, fromPx, toZoom, toPx];
}

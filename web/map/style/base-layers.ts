import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';

/** Land, water, parks, what the land is used for, rails. */
export function listBaseLayers(colours: MapColours): LayerSpecification[] {
  const source = 'context';
  const isArea: ExpressionSpecification = ['==', ['geometry-type'], 'Polygon'];
  const isLine: ExpressionSpecification = ['==', ['geometry-type'], 'LineString'];
  const isWater: ExpressionSpecification = [
    'any',
    ['==', ['get', 'natural'], 'water'],
    ['==', ['get', 'waterway'], 'riverbank'],
  ];
  return [
    { id: 'land', type: 'background', paint: { 'background-color': colours.land } },
    {
      id: 'landuse',
      type: 'fill',
      source,
      filter: ['all', isArea, ['has', 'landuse'], ['!', ['in', ['get', 'landuse'], ['literal', GREEN_USES]]]],
      paint: {
        'fill-color': [
          'match',
          ['get', 'landuse'],
          ['industrial', 'port', 'railway', 'quarry', 'construction'],
          colours.industry,
          colours.built,
        ],
      },
    },
    {
      id: 'park',
      type: 'fill',
      source,
      filter: [
        'all',
        isArea,
        [
          'any',
          [
            'in',
            ['get', 'leisure'],
            ['literal', ['park', 'garden', 'pitch', 'golf_course', 'nature_reserve']],
          ],
          ['in', ['get', 'landuse'], ['literal', GREEN_USES]],
          ['in', ['get', 'natural'], ['literal', ['wood', 'scrub', 'heath', 'grassland']]],
        ],
      ],
      paint: { 'fill-color': colours.park },
    },
    // Below the water, which covers its inner half and the lines where river and sea meet.
    {
      id: 'shore',
      type: 'line',
      source,
      filter: [
        'any',
        ['==', ['get', 'natural'], 'coastline'],
        ['all', isArea, isWater, ['!', ['has', 'boremark:sea']]],
      ],
      paint: {
        'line-color': colours.shore,
        'line-width': ['interpolate', ['linear'], ['zoom'], 10, 1.2, 16, 2.6],
      },
    },
    {
      id: 'water',
      type: 'fill',
      source,
      filter: ['all', isArea, isWater],
      paint: { 'fill-color': colours.water },
    },
    {
      id: 'waterway',
      type: 'line',
      source,
      filter: [
        'all',
        isLine,
        ['in', ['get', 'waterway'], ['literal', ['river', 'canal', 'stream']]],
        ['!', ['has', 'tunnel']],
      ],
      layout: { 'line-cap': 'round', 'line-join': 'round' },
      paint: {
        'line-color': colours.water,
        'line-width': [
          'interpolate',
          ['exponential', 1.5],
          ['zoom'],
          10,
          ['match', ['get', 'waterway'], 'stream', 0.4, 1.2],
          16,
          ['match', ['get', 'waterway'], 'stream', 1.5, 6],
        ],
      },
    },
    {
      id: 'rail',
      type: 'line',
      source,
      filter: [
        'all',
        isLine,
        ['in', ['get', 'railway'], ['literal', ['rail', 'light_rail', 'tram', 'subway']]],
      ],
      paint: {
        'line-color': colours.rail,
        'line-opacity': ['case', ['has', 'tunnel'], 0.45, 1],
        'line-width': ['interpolate', ['linear'], ['zoom'], 11, 0.7, 16, 2],
      },
    },
    {
      id: 'rail-ties',
      type: 'line',
      source,
      minzoom: 13,
      filter: [
        'all',
        isLine,
        ['in', ['get', 'railway'], ['literal', ['rail', 'light_rail']]],
        ['!', ['has', 'tunnel']],
      ],
      paint: {
        'line-color': colours.rail,
        'line-width': ['interpolate', ['linear'], ['zoom'], 13, 3, 17, 7],
        'line-dasharray': [0.25, 2.2],
      },
    },
  ];
}

const GREEN_USES = [
  'forest',
  'grass',
  'meadow',
  'recreation_ground',
  'village_green',
  'cemetery',
  'allotments',
];

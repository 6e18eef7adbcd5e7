import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';

/** Roads in the open air: casings below, fills above, so that crossings join. Tunnels are drawn as bores. */
export function listRoadLayers(colours: MapColours): LayerSpecification[] {
  const fill = (
    id: RoadClass,
    minzoom: number,
    color: string | ExpressionSpecification,
  ): LayerSpecification => ({
    id: `road-${id}`,
    type: 'line',
    source: 'context',
    minzoom,
    filter: isClass(id),
    layout: { 'line-cap': 'round', 'line-join': 'round' },
    paint: { 'line-color': color, 'line-width': widthOf(id, 0) },
  });
  const casing = (id: RoadClass, minzoom: number, color: string): LayerSpecification => ({
    id: `road-${id}-casing`,
    type: 'line',
    source: 'context',
    minzoom,
    filter: isClass(id),
    layout: { 'line-join': 'round' },
    paint: { 'line-color': color, 'line-width': widthOf(id, 1.6) },
  });
  return [
    {
      id: 'road-path',
      type: 'line',
      source: 'context',
      minzoom: 14,
      filter: isClass('path'),
      paint: { 'line-color': colours.path, 'line-width': 1, 'line-dasharray': [3, 2] },
    },
    {
      id: 'road-unbuilt',
      type: 'line',
      source: 'context',
      minzoom: 13,
      filter: ['in', ['get', 'highway'], ['literal', ['construction', 'proposed']]],
      paint: { 'line-color': colours.minorCasing, 'line-width': 2, 'line-dasharray': [2, 2] },
    },
    casing('service', 14.5, colours.minorCasing),
    casing('minor', 13, colours.minorCasing),
    casing('link', 11.5, colours.mainCasing),
    casing('tertiary', 11, colours.minorCasing),
    casing('main', 10, colours.mainCasing),
    casing('motorway', 7, colours.motorwayCasing),
    fill('service', 14.5, colours.minorRoad),
    // Too thin for a casing far out: a grey line then.
    fill('minor', 11, ['interpolate', ['linear'], ['zoom'], 12.5, colours.minorFar, 13.5, colours.minorRoad]),
    fill('link', 11.5, colours.mainRoad),
    fill('tertiary', 10, colours.minorRoad),
    fill('main', 8, colours.mainRoad),
    fill('motorway', 6, colours.motorway),
    {
      id: 'bridge-edges',
      type: 'line',
      source: 'context',
      minzoom: 14,
      filter: ['all', ['has', 'highway'], ['has', 'bridge'], ['!=', ['get', 'bridge'], 'no'], IN_THE_OPEN],
      paint: {
        'line-color': colours.roadLabel,
        'line-opacity': 0.6,
        'line-width': 1,
        'line-gap-width': ['interpolate', ['exponential', 1.6], ['zoom'], 13, 4.5, 16, 12, 19, 46],
      },
    },
  ];
}

/** `highway` values of each class of drawing. */
const CLASSES = {
  motorway: ['motorway', 'trunk'],
  main: ['primary', 'secondary'],
  link: ['motorway_link', 'trunk_link', 'primary_link', 'secondary_link', 'tertiary_link'],
  tertiary: ['tertiary'],
  minor: ['residential', 'unclassified', 'living_street', 'road'],
  service: ['service'],
  path: ['footway', 'cycleway', 'path', 'pedestrian', 'steps', 'track', 'bridleway'],
} as const;

type RoadClass = keyof typeof CLASSES;

/** Widths in pixels at zoom 11, 13, 16 and 19. */
const WIDTHS: Record<RoadClass, readonly [number, number, number, number]> = {
  motorway: [1.6, 3.2, 9, 42],
  main: [1.1, 2.6, 8, 38],
  link: [0.7, 1.6, 5.5, 24],
  tertiary: [0.8, 2, 7, 32],
  minor: [0.4, 1.1, 5.5, 28],
  service: [0.2, 0.6, 3, 16],
  path: [0.5, 0.8, 1.2, 3],
};

/** Not a tunnel of ours. Galleries and covered ways stay drawn: their bores may be hidden. */
const IN_THE_OPEN: ExpressionSpecification = [
  'any',
  ['!', ['has', 'tunnel']],
  [
    'in',
    ['get', 'tunnel'],
    ['literal', ['no', 'false', '0', 'culvert', 'passage', 'building_passage', 'avalanche_protector']],
  ],
];

function isClass(id: RoadClass): ExpressionSpecification {
  return [
    'all',
    ['==', ['geometry-type'], 'LineString'],
    ['in', ['get', 'highway'], ['literal', [...CLASSES[id]]]],
    IN_THE_OPEN,
  ];
}

function widthOf(id: RoadClass, addedPx: number): ExpressionSpecification {
  const [z11, z13, z16, z19] = WIDTHS[id].map((width) => width + addedPx) as [number, number, number, number];
  return ['interpolate', ['exponential', 1.6], ['zoom'], 11, z11, 13, z13, 16, z16, 19, z19];
}

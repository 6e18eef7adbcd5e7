import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';
import { BOLD, REGULAR } from './font-names.ts';
import { TILE_SOURCE } from './source-ids.ts';

/** Portals, decision points, exits with their signs, emergency features, findings. */
export function listTunnelSymbolLayers(colours: MapColours): LayerSpecification[] {
  const always = { 'icon-allow-overlap': true, 'icon-ignore-placement': true } as const;
  const isUnderground: ExpressionSpecification = ['==', ['get', 'where'], 'underground'];
  const isExit: ExpressionSpecification = ['==', ['get', 'exit'], true];
  const branches = (
    id: string,
    minzoom: number,
    filter: ExpressionSpecification,
    icon: string,
    opacity: number,
  ) =>
    ({
      id,
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'branches',
      minzoom,
      filter,
      layout: {
        ...always,
        'icon-image': icon,
        'icon-rotate': ['get', 'drawnDeg'],
        'icon-rotation-alignment': 'map',
        // Turned with the arrow: it starts at the node's edge.
        'icon-offset': [0, -22],
        'icon-size': ['interpolate', ['linear'], ['zoom'], 14, 0.7, 16, 1],
      },
      paint: { 'icon-opacity': opacity },
    }) satisfies LayerSpecification;
  return [
    {
      id: 'emergency',
      type: 'symbol',
      source: 'context',
      minzoom: 16,
      filter: [
        'any',
        ['in', ['get', 'emergency'], ['literal', ['exit', 'phone', 'bay']]],
        ['==', ['get', 'entrance'], 'emergency'],
        ['==', ['get', 'highway'], 'emergency_bay'],
      ],
      layout: {
        'icon-image': [
          'case',
          ['==', ['get', 'emergency'], 'phone'],
          'emergency-phone',
          ['any', ['==', ['get', 'highway'], 'emergency_bay'], ['==', ['get', 'emergency'], 'bay']],
          'lay-by',
          'emergency-exit',
        ],
        'icon-size': ['interpolate', ['linear'], ['zoom'], 16, 0.75, 18, 1],
      },
    },
    {
      id: 'portals',
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'portals',
      minzoom: 12.5,
      layout: {
        ...always,
        'icon-image': ['get', 'icon'],
        'icon-size': ['interpolate', ['linear'], ['zoom'], 12.5, 0.5, 14, 0.75, 16, 1],
      },
    },
    branches('ways-after-portal', 16, ['!', isUnderground], 'through-arrow', 0.55),
    branches('ways-through', 15, ['all', isUnderground, ['!', isExit]], 'through-arrow', 0.9),
    {
      id: 'decisions-after-portal',
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'decisions',
      minzoom: 14.5,
      filter: ['!', isUnderground],
      layout: {
        ...always,
        'icon-image': 'decision-after-portal',
        'icon-size': ['interpolate', ['linear'], ['zoom'], 14.5, 0.55, 16.5, 0.9],
      },
    },
    branches('exits', 14, ['all', isUnderground, isExit], 'exit-arrow', 1),
    {
      id: 'decisions',
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'decisions',
      minzoom: 12.5,
      filter: isUnderground,
      layout: {
        ...always,
        'icon-image': 'decision-underground',
        'icon-size': ['interpolate', ['linear'], ['zoom'], 12.5, 0.6, 14, 0.85, 16, 1],
      },
    },
    {
      id: 'findings',
      type: 'symbol',
      source: 'findings',
      minzoom: 11,
      layout: {
        ...always,
        'icon-image': ['concat', 'finding-', ['coalesce', ['get', 'severity'], 'info']],
        'icon-size': ['interpolate', ['linear'], ['zoom'], 11, 0.55, 15, 0.9],
        'icon-offset': [0, -12],
      },
    },
    {
      id: 'exit-signs',
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'branches',
      minzoom: 14,
      filter: ['all', isUnderground, isExit, ['has', 'label']],
      layout: {
        'text-field': ['get', 'label'],
        'text-font': [BOLD],
        'text-size': ['interpolate', ['linear'], ['zoom'], 14, 10.5, 17, 13],
        'text-max-width': 9,
        ...besideArrow(3.1),
      },
      paint: { 'text-color': colours.exit, 'text-halo-color': colours.labelHalo, 'text-halo-width': 1.6 },
    },
    {
      id: 'through-signs',
      type: 'symbol',
      source: TILE_SOURCE,
      'source-layer': 'branches',
      minzoom: 15.5,
      filter: ['all', isUnderground, ['!', isExit], ['has', 'label']],
      layout: {
        'text-field': ['get', 'label'],
        'text-font': [REGULAR],
        'text-size': 11.5,
        'text-max-width': 9,
        ...besideArrow(3.3),
      },
      paint: { 'text-color': colours.ink, 'text-halo-color': colours.labelHalo, 'text-halo-width': 1.6 },
    },
  ];
}

/** Puts a sign at the head of its arrow, on the side where the arrow points, `reachEm` from the node. */
function besideArrow(reachEm: number) {
  const diagonal = Math.round(reachEm * 7.1) / 10;
  const places: Record<string, [string, [number, number]]> = {
    N: ['bottom', [0, -reachEm]],
    NE: ['bottom-left', [diagonal, -diagonal]],
    E: ['left', [reachEm, 0]],
    SE: ['top-left', [diagonal, diagonal]],
    S: ['top', [0, reachEm]],
    SW: ['top-right', [-diagonal, diagonal]],
    W: ['right', [-reachEm, 0]],
    NW: ['bottom-right', [-diagonal, -diagonal]],
  };
  const anchor = Object.entries(places).flatMap(([octant, [name]]) => [octant, name]);
  const offset = Object.entries(places).flatMap(([octant, [, at]]) => [octant, ['literal', at]]);
  return {
    'text-anchor': ['match', ['get', 'octant'], ...anchor, 'bottom'] as never,
    'text-offset': ['match', ['get', 'octant'], ...offset, ['literal', [0, -reachEm]]] as never,
  };
}

import type { ExpressionSpecification, LayerSpecification } from 'maplibre-gl';
import type { MapColours } from '../colours.ts';
import { TILE_SOURCE } from './source-ids.ts';

/** The bores: halo of the selected and hovered tunnel, tinted carriageway, broken walls, arrows of one-way bores. */
export function listTunnelLayers(colours: MapColours): LayerSpecification[] {
  const bores = { source: TILE_SOURCE, 'source-layer': 'bores' } as const;
  const color = byLook(colours.planned, colours.undesigned, colours.gallery, colours.restricted);
  const tint = byLook(
    colours.plannedTint,
    colours.undesignedTint,
    colours.galleryTint,
    colours.restrictedTint,
  );
  return [
    {
      id: 'bore-halo',
      type: 'line',
      ...bores,
      layout: { 'line-join': 'round', 'line-cap': 'round' },
      paint: {
        'line-color': ['case', isState('selected'), colours.selected, colours.hovered],
        'line-opacity': ['case', isState('selected'), 0.85, isState('hovered'), 0.9, 0],
        'line-width': widen([9, 11, 15, 24, 60]),
      },
    },
    ...LEVELS.flatMap((level) => listWalls(level, color, tint)),
    {
      id: 'bore-arrows',
      type: 'symbol',
      ...bores,
      minzoom: 14.5,
      filter: ['==', ['get', 'oneway'], true],
      layout: {
        'symbol-placement': 'line',
        'symbol-spacing': 110,
        'icon-image': 'bore-arrow',
        'icon-size': ['interpolate', ['linear'], ['zoom'], 14.5, 0.6, 17, 1],
        'icon-rotation-alignment': 'map',
        'icon-padding': 1,
      },
      paint: { 'icon-opacity': 0.85 },
    },
    {
      id: 'bore-hit',
      type: 'line',
      ...bores,
      paint: { 'line-color': '#000', 'line-opacity': 0, 'line-width': 18 },
    },
  ];
}

/** Levels of `layer`, deepest first: a ramp that passes over another one covers it. */
const LEVELS = [-3, -2, -1, 0] as const;

function listWalls(
  level: (typeof LEVELS)[number],
  color: ExpressionSpecification,
  tint: ExpressionSpecification,
): LayerSpecification[] {
  const layer: ExpressionSpecification = ['coalesce', ['get', 'layer'], 0];
  const filter: ExpressionSpecification =
    level === -3 ? ['<=', layer, level] : level === 0 ? ['>=', layer, level] : ['==', layer, level];
  const common = {
    type: 'line',
    source: TILE_SOURCE,
    'source-layer': 'bores',
    filter,
    layout: { 'line-join': 'round' },
  } as const;
  return [
    {
      ...common,
      id: `bore-tint${level}`,
      paint: { 'line-color': tint, 'line-width': widen([3, 4, 6.5, 13, 46]) },
    },
    {
      // Far out, where walls would run together: one broken line.
      ...common,
      id: `bore-far${level}`,
      maxzoom: FAR_ZOOM,
      paint: {
        'line-color': color,
        'line-width': ['interpolate', ['linear'], ['zoom'], 8, 2, FAR_ZOOM, 3.4],
        'line-dasharray': dashes([2.2, 0.7], [2.2, 0.7], [6, 0.7]),
      },
    },
    {
      ...common,
      id: `bore-walls${level}`,
      minzoom: FAR_ZOOM,
      paint: {
        'line-color': color,
        'line-width': ['interpolate', ['linear'], ['zoom'], 13, 1.7, 17, 2.4],
        'line-gap-width': widen([1, 1.6, 4, 11, 44]),
        'line-dasharray': dashes([3.6, 1.3], [1, 1.4], [9, 1.3]),
      },
    },
  ];
}

/** From here in, a bore is drawn with its two walls. */
const FAR_ZOOM = 13;

function isState(name: string): ExpressionSpecification {
  return ['boolean', ['feature-state', name], false];
}

function byLook(
  planned: string,
  undesigned: string,
  gallery: string,
  restricted: string,
): ExpressionSpecification {
  return [
    'match',
    ['get', 'look'],
    'undesigned',
    undesigned,
    'gallery',
    gallery,
    'restricted',
    restricted,
    planned,
  ];
}

type Dash = readonly [number, number];

/** Dashes as long as a tunnel is equipped: short ones where beacons are planned, none where they all hang. */
function dashes(planned: Dash, gallery: Dash, partly: Dash): ExpressionSpecification {
  const literal = (dash: readonly number[]): ExpressionSpecification => ['literal', [...dash]];
  return [
    'match',
    ['get', 'look'],
    'gallery',
    literal(gallery),
    'partly',
    literal(partly),
    'equipped',
    literal([1, 0]),
    literal(planned),
  ];
}

/** Pixels at zoom 10, 12, 14, 16 and 19. */
function widen(px: readonly [number, number, number, number, number]) {
  const stops = [10, 12, 14, 16, 19].flatMap((at, i) => [at, px[i] as number]);
  return ['interpolate', ['exponential', 1.4], ['zoom'], ...stops] as ExpressionSpecification;
}

import type { FontFacesSpecification, LayerSpecification, StyleSpecification } from 'maplibre-gl';
import { NEAREST_TILE_ZOOM, type TileLayer } from '../../../shared/tiles/tile-layer.ts';
import type { MapColours } from '../colours.ts';
import { NO_TILES } from '../tile-url.ts';
import { listBaseLayers } from './base-layers.ts';
import { listChangeLayers } from './change-layers.ts';
import { listDesignLayers } from './design-layers.ts';
import { listLabelLayers } from './label-layers.ts';
import { listProgrammeBands, listProgrammeMarks } from './programme-layers.ts';
import { listRoadLayers } from './road-layers.ts';
import { SOURCE_IDS, TILE_SOURCE } from './source-ids.ts';
import { listTunnelLabelLayers } from './tunnel-label-layers.ts';
import { listTunnelLayers } from './tunnel-layers.ts';
import { listTunnelSymbolLayers } from './tunnel-symbol-layers.ts';

export type FontFaces = FontFacesSpecification;

/** The whole style: no glyph server, no sprites; its sources are empty until a survey is given. */
export function buildStyle(colours: MapColours, fontFaces: FontFaces): StyleSpecification {
  return {
    version: 8,
    'font-faces': fontFaces,
    transition: { duration: 0, delay: 0 },
    sources: {
      ...Object.fromEntries(
        SOURCE_IDS.map((id) => [
          id,
          {
            type: 'geojson' as const,
            data: { type: 'FeatureCollection' as const, features: [] },
            // Finer than the default: a wall is five metres from its centreline.
            tolerance: 0.1,
            maxzoom: 20,
          },
        ]),
      ),
      [TILE_SOURCE]: {
        type: 'vector',
        tiles: [NO_TILES],
        maxzoom: NEAREST_TILE_ZOOM,
        // Hover and selection are kept per complex, whichever of its bores is meant.
        promoteId: { bores: 'complex' } satisfies Partial<Record<TileLayer, string>>,
      },
    },
    layers: listLayers(colours),
  };
}

/** All layers, lowest first. */
export function listLayers(colours: MapColours): LayerSpecification[] {
  return [
    ...listBuiltInLayers(colours),
    ...listProgrammeBands(colours),
    ...listTunnelLayers(colours),
    ...listDesignLayers(colours),
    ...listChangeLayers(colours),
    ...listTunnelSymbolLayers(colours),
    ...listTunnelLabelLayers(colours),
    ...listProgrammeMarks(),
  ];
}

/** The layers of the built-in map: what a base map of the operator's takes the place of. */
export function listBuiltInLayers(colours: MapColours): LayerSpecification[] {
  return [...listBaseLayers(colours), ...listRoadLayers(colours), ...listLabelLayers(colours)];
}

import { geoJSONToTile } from '@maplibre/geojson-vt';
import { fromGeojsonVt } from '@maplibre/vt-pbf';
import type { Feature } from 'geojson';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import { NEAREST_TILE_ZOOM, TILE_LAYERS, type TileLayer } from '../../shared/tiles/tile-layer.ts';
import { toTileFeatures } from '../../shared/tiles/to-tile-features.ts';
import { takeTurns } from '../take-turns.ts';

/** A tile of the usual pyramid in Web Mercator: y counts from the north. */
export type TileAddress = { readonly z: number; readonly x: number; readonly y: number };

/** Units across a tile. */
const EXTENT = 4096;
/** What lies so far outside is in the tile, too: a symbol at the edge is drawn whole. */
const BUFFER = 128;
/** Finer than the library's 3: a wall is five metres from its centreline. */
const TOLERANCE = 0.1;

/** Whether an address is one of the pyramid's. */
export function isTile({ z, x, y }: TileAddress): boolean {
  const isWithin = (part: number, limit: number) => Number.isInteger(part) && part >= 0 && part < limit;
  return isWithin(z, NEAREST_TILE_ZOOM + 1) && isWithin(x, 2 ** z) && isWithin(y, 2 ** z);
}

/** What a tile shows, with its buffer, in degrees. */
export function boundsOfTile({ z, x, y }: TileAddress): BBox {
  const margin = BUFFER / EXTENT;
  const [west, east] = [x - margin, x + 1 + margin].map((at) => (at / 2 ** z) * 360 - 180);
  const [north, south] = [y - margin, y + 1 + margin].map((at) => {
    const square = Math.PI * (1 - (2 * at) / 2 ** z);
    return (Math.atan(Math.sinh(square)) * 180) / Math.PI;
  });
  return [west, south, east, north] as BBox;
}

/**
 * Draws tunnels as a Mapbox Vector Tile 2.1, not compressed, with those of the layers that are told apart at its zoom;
 * undefined where nothing of them lies in it.
 */
export async function drawTile(
  layers: readonly TileLayer[],
  address: TileAddress,
  tunnels: readonly Designed[],
): Promise<Uint8Array | undefined> {
  const turn = takeTurns();
  const drawn: Parameters<typeof fromGeojsonVt>[0] = {};
  for (const layer of layers) {
    if (address.z < TILE_LAYERS[layer]) continue;
    const features: Feature[] = [];
    for (const tunnel of tunnels) {
      features.push(...toTileFeatures(layer, tunnel, address.z));
      await turn();
    }
    const tile = geoJSONToTile({ type: 'FeatureCollection', features }, address.z, address.x, address.y, {
      maxZoom: NEAREST_TILE_ZOOM,
      extent: EXTENT,
      buffer: BUFFER,
      tolerance: TOLERANCE,
      clip: true,
    });
    if (tile !== null && tile.features.length > 0) drawn[layer] = tile;
  }
  if (Object.keys(drawn).length === 0) return undefined;
  return fromGeojsonVt(drawn, { version: 2, extent: EXTENT });
}

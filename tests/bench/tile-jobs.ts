import { boundsOfTile, drawTile, type TileAddress } from '../../server/tiles/draw-tile.ts';
import { makeFinder } from '../../server/tiles/tunnel-tiles.ts';
import { designComplex } from '../../shared/pipeline/design-complex.ts';
import { type Designed, toSurveyLayer } from '../../shared/pipeline/to-survey-layers.ts';
import { DEFAULT_RULES } from '../../shared/placement/rules.ts';
import { makeScheme } from '../../shared/scheme/scheme.ts';
import { TILE_LAYERS, type TileLayer } from '../../shared/tiles/tile-layer.ts';
import type { Job } from './compare.ts';
import { drawCity } from './draw-city.ts';

const TUNNEL = { lengthM: 2_000, ramps: 4, rampM: 300 };
const TUNNELS = 500;
const ZOOM = 12;
const LAYERS = Object.keys(TILE_LAYERS) as readonly TileLayer[];

/** What a screen of a city takes as vector tiles, and the same city's layers as text. */
export function tileJobs(): { readonly beacons: number; readonly jobs: readonly Job[] } {
  const designed: readonly Designed[] = drawCity(TUNNELS, TUNNEL).map((network) => ({
    network,
    design: designComplex(network, DEFAULT_RULES, makeScheme(network.complex.id)).value,
  }));
  const tiles = findTiles(designed);
  return {
    beacons: designed.reduce((sum, { design }) => sum + design.beacons.length, 0),
    jobs: [
      {
        name: `ours (sorted by place, then ${tiles.length} tiles of zoom ${ZOOM})`,
        run: async () => {
          const find = makeFinder(designed);
          let bytes = 0;
          for (const tile of tiles) {
            bytes += (await drawTile(LAYERS, tile, find(boundsOfTile(tile))))?.length ?? 0;
          }
          return bytes;
        },
      },
      {
        name: 'all beacons as GeoJSON text (reference)',
        run: () =>
          JSON.stringify(
            toSurveyLayer('beacons', designed, [], {
              rules: DEFAULT_RULES,
              origin: { attribution: 'invented' } as never,
            }),
          ).length,
      },
    ],
  };
}

/** Three by four tiles around the middle tunnel: a screen. */
function findTiles(designed: readonly Designed[]): readonly TileAddress[] {
  const [west, south] = (designed[Math.floor(designed.length / 2)] as Designed).network.complex.bbox;
  const scale = 2 ** ZOOM;
  const x = Math.floor(((west + 180) / 360) * scale);
  const y = Math.floor(((1 - Math.asinh(Math.tan((south * Math.PI) / 180)) / Math.PI) / 2) * scale);
  return Array.from({ length: 12 }, (_, i) => ({
    z: ZOOM,
    x: x - 1 + (i % 4),
    y: y - 1 + Math.floor(i / 4),
  }));
}

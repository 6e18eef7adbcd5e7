import { gzipSync } from 'node:zlib';
import { boundsOf } from '../../shared/geodesy/bounds-of.ts';
import type { BBox } from '../../shared/geodesy/lon-lat.ts';
import { makeBoxIndex } from '../../shared/geodesy/make-box-index.ts';
import type { Complex } from '../../shared/network/network.ts';
import type { Designed } from '../../shared/pipeline/to-survey-layers.ts';
import { TILE_LAYERS, type TileLayer } from '../../shared/tiles/tile-layer.ts';
import { LatestMap } from '../latest-map.ts';
import type { SurveyRecord } from '../store/store.ts';
import type { DerivedSurveys } from '../surveys/derived-surveys.ts';
import { boundsOfTile, drawTile, type TileAddress } from './draw-tile.ts';

/** The vector tiles of surveys: only what lies in a tile is drawn, and only when it is asked for. */
export type TunnelTiles = {
  /** One tile, gzip; undefined where nothing lies in it. Without a layer: all of them. */
  draw(
    survey: SurveyRecord,
    layer: TileLayer | undefined,
    address: TileAddress,
  ): Promise<Uint8Array | undefined>;
};

/** A survey as it stands: another record for each revision. */
type Sorted = {
  readonly survey: SurveyRecord;
  readonly findNear: Promise<(box: BBox) => readonly Designed[]>;
  readonly tiles: LatestMap<string, Promise<Uint8Array | undefined>>;
};

const SURVEYS_IN_MEMORY = 16;
/** A few kilobytes each. */
const TILES_IN_MEMORY = 1000;
/** Beacons hang beside the lines that a box is drawn around. */
const WALL_M = 50;

const LAYERS = Object.keys(TILE_LAYERS) as readonly TileLayer[];

export function createTunnelTiles(derived: Pick<DerivedSurveys, 'designed'>): TunnelTiles {
  const kept = new LatestMap<string, Sorted>(SURVEYS_IN_MEMORY);

  const sort = (survey: SurveyRecord): Sorted => {
    const before = kept.get(survey.id);
    if (before?.survey === survey) return before;
    const sorted: Sorted = {
      survey,
      findNear: derived.designed(survey).then(({ designed }) => makeFinder(designed)),
      tiles: new LatestMap(TILES_IN_MEMORY),
    };
    kept.set(survey.id, sorted);
    // Whoever asks next tries again.
    sorted.findNear.catch(() => kept.delete(survey.id));
    return sorted;
  };

  return {
    draw(survey, layer, address) {
      const { findNear, tiles } = sort(survey);
      const key = [layer, address.z, address.x, address.y].join(' ');
      const before = tiles.get(key);
      if (before !== undefined) return before;
      const drawing = findNear.then(async (find) => {
        const near = find(boundsOfTile(address));
        const tile = await drawTile(layer === undefined ? LAYERS : [layer], address, near);
        return tile && gzipSync(tile, { level: 4 });
      });
      tiles.set(key, drawing);
      return drawing;
    },
  };
}

/** Finds the tunnels that may lie in a box. */
export function makeFinder(designed: readonly Designed[]): (box: BBox) => readonly Designed[] {
  const findNear = makeBoxIndex(designed.map(({ network }) => boxOf(network.complex)));
  return (box) => findNear(box, WALL_M).map((i) => designed[i] as Designed);
}

/** Decisions after a portal lie outside the tunnel's own box. */
function boxOf({ bbox: [west, south, east, north], decisionsAfterPortal }: Complex): BBox {
  const corners = [
    [west, south],
    [east, north],
  ] as const;
  return boundsOf([corners, decisionsAfterPortal.map(({ at }) => at)]);
}

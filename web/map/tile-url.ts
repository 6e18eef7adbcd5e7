import { ALL_LAYERS } from '../../shared/tiles/tile-layer.ts';
import type { SurveyTiles } from './map-types.ts';

/** Answered by the map itself: no tile has anything in it. */
const NOTHING = 'nothing';
export const NO_TILES = `${NOTHING}://{z}/{x}/{y}`;
/** The protocol of `NO_TILES`, to be registered once. */
export const NO_TILES_PROTOCOL = [NOTHING, async () => ({ data: new ArrayBuffer(0) })] as const;

/** Where the tiles of a survey are; another address for each revision, so that the map asks again. */
export function toTileUrl(tiles: SurveyTiles | undefined, base: string): string {
  if (tiles === undefined) return NO_TILES;
  const { surveyId, revision } = tiles;
  const query = new URLSearchParams({ survey: surveyId, revision: String(revision) });
  // The map fills in the braces, which a URL would escape.
  return `${new URL('/', base)}tiles/${ALL_LAYERS}/{z}/{x}/{y}?${query}`;
}

/** What the map's vector tiles hold, each with the zoom from which on: farther out it could not be told apart. */
export const TILE_LAYERS = { bores: 0, portals: 12, decisions: 12, branches: 14, beacons: 12 } as const;

export type TileLayer = keyof typeof TILE_LAYERS;

/** From this zoom on each bore is told for itself; farther out all of a tunnel are one, and only how they are drawn is told. */
export const SINGLE_BORE_ZOOM = 12;

/** Every layer in one tile, as the map of a survey asks for them. */
export const ALL_LAYERS = 'tunnels';

/** The nearest zoom that has tiles of its own; a unit of theirs is 15 cm there. */
export const NEAREST_TILE_ZOOM = 16;

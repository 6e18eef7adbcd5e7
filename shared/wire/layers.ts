/** The layers of the hand-over. */
export const EXPORTED_LAYERS = [
  'complexes',
  'bores',
  'portals',
  'decisions',
  'features',
  'beacons',
  'coverage',
] as const;
export type ExportedLayer = (typeof EXPORTED_LAYERS)[number];

/** The layers of a survey that can be read as GeoJSON: those, the map's background and what the import noticed. */
export const LAYERS = [...EXPORTED_LAYERS, 'context', 'findings'] as const;
export type LayerName = (typeof LAYERS)[number];

/** The source of vector tiles: whatever of a survey may be much. */
export const TILE_SOURCE = 'tunnels';

/** The sources that hold their features. `design-*` hold the tunnel that is being designed and stay small. */
export const SOURCE_IDS = [
  'context',
  'complex-labels',
  'findings',
  'design-coverage',
  'design-keep-outs',
  'design-beacons',
  'sliding-beacon',
  'changes',
  'programme',
] as const;

export type SourceId = (typeof SOURCE_IDS)[number];

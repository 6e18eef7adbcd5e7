/** Every source of the style. `design-*` hold the tunnel that is being designed and stay small. */
export const SOURCE_IDS = [
  'context',
  'bores',
  'complex-labels',
  'portals',
  'decisions',
  'branches',
  'beacons',
  'findings',
  'design-coverage',
  'design-keep-outs',
  'design-beacons',
  'sliding-beacon',
  'changes',
] as const;

export type SourceId = (typeof SOURCE_IDS)[number];

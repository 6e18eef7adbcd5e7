import type { Tags } from './extract.ts';

/** The `highway` values that cars may use, links apart. */
export const ROAD_CLASSES = [
  'motorway',
  'motorway_link',
  'trunk',
  'trunk_link',
  'primary',
  'primary_link',
  'secondary',
  'secondary_link',
  'tertiary',
  'tertiary_link',
  'unclassified',
  'residential',
  'living_street',
  'service',
  'road',
] as const;
export type RoadClass = (typeof ROAD_CLASSES)[number];

const known: ReadonlySet<string> = new Set(ROAD_CLASSES);

/** The road class of a way that cars may use, or undefined. */
export function findRoadClass(tags: Tags): RoadClass | undefined {
  const value = tags.highway;
  return value !== undefined && known.has(value) ? (value as RoadClass) : undefined;
}

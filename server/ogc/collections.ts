import { NETWORK_RULES } from '../../shared/network/build-network.ts';
import type { Counts } from '../../shared/wire/survey.ts';

/** The layers that are served as collections, in the order in which they are listed. */
export const COLLECTION_IDS = ['complexes', 'bores', 'portals', 'decisions', 'beacons'] as const;
export type CollectionId = (typeof COLLECTION_IDS)[number];

export type CollectionSpec = {
  /** How many features a survey has in it, by what was counted of the survey. */
  readonly countIn: (counts: Counts) => number;
  /** How far its features may lie outside the bounds of their survey's tunnels, at most. */
  readonly reachM: number;
  /** The properties that the page with its features shows. */
  readonly columns: readonly string[];
};

/** Bounds are of the lines as they were read, exports have 7 decimals. */
const ROUNDING_M = 1;
/** Farther from a bore's middle than any wall. */
const WALL_M = 100;

export const COLLECTIONS: Readonly<Record<CollectionId, CollectionSpec>> = {
  complexes: {
    countIn: ({ complexes }) => complexes,
    reachM: ROUNDING_M,
    columns: ['name', 'ref', 'kind', 'lengthM', 'exitCount', 'beaconCount', 'status', 'rank', 'survey'],
  },
  bores: {
    countIn: ({ links }) => links,
    reachM: ROUNDING_M,
    columns: ['complex', 'kind', 'lengthM', 'oneway', 'lanes', 'maxspeedKmh', 'roadClass', 'survey'],
  },
  portals: {
    countIn: ({ portals }) => portals,
    reachM: ROUNDING_M,
    columns: ['complex', 'kind', 'direction', 'edgeOfExtract', 'osmNode', 'survey'],
  },
  decisions: {
    countIn: ({ decisions }) => decisions,
    reachM: NETWORK_RULES.approachM + ROUNDING_M,
    columns: ['complex', 'where', 'distanceFromFixM', 'sightDistanceM', 'misguidedShare', 'survey'],
  },
  beacons: {
    countIn: ({ beacons }) => beacons,
    reachM: WALL_M,
    columns: ['complex', 'link', 'chainageM', 'side', 'role', 'coverageM', 'survey'],
  },
};

/** The collection of that name; undefined where there is none. */
export function findCollection(id: string): CollectionId | undefined {
  return COLLECTION_IDS.find((known) => known === id);
}

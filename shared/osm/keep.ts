import type { Tags } from './extract.ts';
import { findRoadClass } from './read-highway.ts';
import { namesTunnel, readRoof } from './read-kind.ts';

/*
 * What an extract keeps of a file. The roads, everything underground that the import report must mention, the
 * features a crew looks for, and what the built-in map draws: water, parks, railways, names. Not buildings.
 */

const WATERWAYS: ReadonlySet<string> = new Set(['river', 'canal', 'riverbank', 'dock']);
const WATERS: ReadonlySet<string> = new Set(['coastline', 'water', 'bay', 'strait']);
const HARBOURS: ReadonlySet<string> = new Set(['harbour', 'port']);
const ISLANDS: ReadonlySet<string> = new Set(['island', 'islet']);
const EMERGENCY_PLACES: ReadonlySet<string> = new Set(['emergency_bay', 'emergency_access_point']);

/** Lay-bys, which are drawn as nodes or as ways with or without a `highway`. */
const LAY_BYS: ReadonlySet<string> = new Set(['bay', 'lay_by']);

/** The keys that decide: without one of them nothing is kept, so that large files can be passed over by key. */
export const NODE_KEYS: ReadonlySet<string> = new Set([
  'emergency',
  'place',
  'highway',
  'entrance',
  'natural',
]);
export const ROOF_KEYS: ReadonlySet<string> = new Set(['tunnel', 'covered']);
export const WAY_KEYS: ReadonlySet<string> = new Set([
  'highway',
  'tunnel',
  'emergency',
  'place',
  'natural',
  'waterway',
  'leisure',
  'landuse',
  'railway',
  'aeroway',
]);

/** Whether a node's tags matter: exits, what helps in an emergency, and names on the map. */
export function wantsNode(tags: Tags): boolean {
  return (
    tags.emergency !== undefined ||
    tags.place !== undefined ||
    tags.highway === 'motorway_junction' ||
    tags.entrance === 'emergency' ||
    tags.natural === 'bay' ||
    EMERGENCY_PLACES.has(tags.highway ?? '')
  );
}

/**
 * Whether a way is kept. Roads for cars in use or not marked otherwise; any other `highway` (footways, building
 * sites) only where it names a tunnel or a cover, for the import report; tunnels of any kind; lay-bys; what the map
 * draws.
 */
export function wantsWay(tags: Tags): boolean {
  if (tags.highway !== undefined) {
    return findRoadClass(tags) !== undefined || namesTunnel(tags) || EMERGENCY_PLACES.has(tags.highway);
  }
  if (readRoof(tags) === 'tunnel' || tags.place !== undefined) return true;
  if (LAY_BYS.has(tags.emergency ?? '')) return true;
  return isDrawn(tags) || tags.railway === 'rail' || tags.aeroway === 'runway';
}

/** Whether a way is a tunnel, cover or gallery that cars may use: what lies near one is kept of large files. */
export function isRoadUnderRoof(tags: Tags): boolean {
  return findRoadClass(tags) !== undefined && readRoof(tags) !== 'open';
}

/** Whether a way is kept however far it is from any tunnel, because the import report must mention it. */
export function wantsAnywhere(tags: Tags): boolean {
  return tags.highway !== undefined && namesTunnel(tags);
}

/** Whether a relation is kept: turn restrictions, tunnels, and areas that the map draws. */
export function wantsRelation(tags: Tags): boolean {
  return tags.type === 'restriction' || tags.type === 'tunnel' || wantsMembers(tags);
}

/** Whether a relation's member ways are kept too, even where they have no tags of their own. */
export function wantsMembers(tags: Tags): boolean {
  return (tags.type === 'multipolygon' || tags.type === 'boundary') && isDrawn(tags);
}

/** Whether a way may be forgotten at once: houses are the bulk of a city and bound no water and no park. */
export function isBuilding(tags: Tags): boolean {
  return tags.building !== undefined;
}

function isDrawn(tags: Tags): boolean {
  return (
    WATERS.has(tags.natural ?? '') ||
    WATERWAYS.has(tags.waterway ?? '') ||
    tags.leisure === 'park' ||
    HARBOURS.has(tags.landuse ?? '') ||
    ISLANDS.has(tags.place ?? '')
  );
}

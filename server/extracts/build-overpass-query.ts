import { ROAD_CLASSES } from '../../shared/osm/read-highway.ts';
import { NOT_A_BORE } from '../../shared/osm/read-kind.ts';
import type { Area } from '../../shared/wire/survey.ts';

const SERVER_TIMEOUT_S = 120;
const SERVER_MEMORY_BYTES = 512 * 1024 * 1024;
/** A bore that the edge of the area cuts is followed for this many ways more, so that it ends at a portal. */
const FOLLOWED_WAYS = 3;
/** How far from a bore's line its doors, phones and lay-bys are mapped. */
const FEATURE_REACH_M = 30;
const MAX_APPROACH_M = 5000;

const DRIVABLE = `["highway"~"^(${ROAD_CLASSES.join('|')})$"]`;
const IN_TUNNEL = `["tunnel"]["tunnel"!~"^(no|false|0|${[...NOT_A_BORE].join('|')})$"]`;
const COVERED = '["covered"="yes"]';
/** On a way, these values of `emergency` say who may use it; they are no equipment. */
const EQUIPMENT =
  '["emergency"]["emergency"!~"^(yes|no|designated|official|destination|permissive|private)$"]';
const EMERGENCY_PLACES = '["highway"~"^(emergency_bay|emergency_access_point)$"]';
const MAIN_ROADS = '["highway"~"^(motorway|trunk|primary|secondary|tertiary)(_link)?$"]';
const PLACES = '["place"~"^(city|town|village|suburb|quarter|neighbourhood|hamlet|island)$"]';

/**
 * Writes the Overpass QL question for an area (degrees, checked by checkArea) with roads out to `approachM`
 * metres from the portals. Every element comes once; nodes keep their ids. Throws a RangeError for anything
 * but plain numbers: the text holds no other input.
 */
export function buildOverpassQuery(area: Area, approachM: number): string {
  if (!(approachM >= 0 && approachM <= MAX_APPROACH_M)) {
    throw new RangeError(`approachM must be between 0 and ${MAX_APPROACH_M}`);
  }
  const within = writeArea(area);
  return [
    `[out:json][timeout:${SERVER_TIMEOUT_S}][maxsize:${SERVER_MEMORY_BYTES}];`,
    ...findBores(within),
    ...findApproaches(approachM),
    ...findFeatures(),
    ...findContext(within),
    ...writeAll(),
    '',
  ].join('\n');
}

/** `.roofed`: every way in the area that says it has a roof, for the import report; `.bores`: those for cars. */
function findBores(within: string): string[] {
  const follow = [
    'node(w.bores)->.boreNodes;',
    `(.bores; way(bn.boreNodes)${DRIVABLE}${IN_TUNNEL}; way(bn.boreNodes)${DRIVABLE}${COVERED};)->.bores;`,
  ];
  return [
    `(way["highway"]["tunnel"]["tunnel"!~"^(no|false|0)$"]${within}; way["highway"]${COVERED}${within};)->.roofed;`,
    `(way.roofed${DRIVABLE}${IN_TUNNEL}; way.roofed${DRIVABLE}${COVERED};)->.bores;`,
    ...Array.from({ length: FOLLOWED_WAYS }, () => follow).flat(),
    'node(w.bores)->.boreNodes;',
  ];
}

/**
 * Roads within `approachM` of a portal as the crow flies: never fewer than those within that driving distance,
 * and much cheaper to find than by walking from way to way. Driveways and aisles too: some tunnels end in them.
 */
function findApproaches(approachM: number): string[] {
  return [
    `way(bn.boreNodes)${DRIVABLE}->.touching;`,
    '(.touching; - .bores;)->.open;',
    'node(w.open)->.openNodes;',
    'node.boreNodes.openNodes->.mouths;',
    `way(around.mouths:${write7(approachM)})${DRIVABLE}->.approach;`,
    '(.roofed; .bores; .touching; .approach;)->.roads;',
    'rel(bw.roads)["type"~"^(restriction|tunnel)$"]->.relations;',
  ];
}

function findFeatures(): string[] {
  const near = `(around.bores:${write7(FEATURE_REACH_M)})`;
  return [
    '(',
    `  node${near}${EQUIPMENT};`,
    `  way${near}${EQUIPMENT};`,
    `  node${near}["entrance"="emergency"];`,
    `  node${near}${EMERGENCY_PLACES};`,
    `  way${near}${EMERGENCY_PLACES};`,
    ')->.features;',
  ];
}

/** What the built-in map draws under the tunnels: main roads, water, names. */
function findContext(within: string): string[] {
  return [
    '(',
    `  way${MAIN_ROADS}${within};`,
    `  way["natural"~"^(coastline|water)$"]${within};`,
    `  way["waterway"~"^(river|canal|riverbank|dock)$"]${within};`,
    ')->.lines;',
    `rel["type"="multipolygon"]["natural"="water"]${within}->.waters;`,
    'way(r.waters)->.shores;',
    `node${PLACES}${within}->.places;`,
  ];
}

/** Road nodes with their tags (junctions, signals, barriers); the context's nodes bare; none of them twice. */
function writeAll(): string[] {
  return [
    '(.roads; node(w.roads); .features; node(w.features); .relations; .lines; .waters; .shores; .places;)->.all;',
    '.all out body qt;',
    '(node(w.all); - .all;)->.bare;',
    '.bare out skel qt;',
  ];
}

/** Overpass wants south, west, north, east; a ring is written as "lat lon lat lon …". */
function writeArea(area: Area): string {
  if ('bbox' in area) {
    const [west, south, east, north] = area.bbox;
    return `(${[south, west, north, east].map(write7).join(',')})`;
  }
  return `(poly:"${area.ring.map(([lon, lat]) => `${write7(lat)} ${write7(lon)}`).join(' ')}")`;
}

function write7(value: number): string {
  if (!Number.isFinite(value)) throw new RangeError(`not a number: ${value}`);
  return value.toFixed(7);
}

import type { Tags } from './extract.ts';
import { parseSpeed, type Speed } from './parse-speed.ts';
import { isSpeedZone, parseSpeedZone } from './parse-speed-zone.ts';
import type { RoadClass } from './read-highway.ts';

/** Speed limits where the data give none, km/h by road class: project defaults, always marked as assumed. */
export const DEFAULT_KMH: Readonly<Record<RoadClass, number>> = {
  motorway: 100,
  motorway_link: 60,
  trunk: 80,
  trunk_link: 50,
  primary: 50,
  primary_link: 50,
  secondary: 50,
  secondary_link: 50,
  tertiary: 50,
  tertiary_link: 50,
  unclassified: 50,
  residential: 50,
  living_street: 10,
  service: 20,
  road: 50,
};

export type Maxspeed = {
  readonly speedMps: number;
  /** The value, or a part of it, was not in the data but taken from the defaults by road class. */
  readonly assumed: boolean;
  /** Signs or conditions change the limit; `speedMps` is the highest that the data name. */
  readonly variable?: true;
  /** The value that was there and was not understood. */
  readonly unreadable?: string;
};

/** Values of `maxspeed` that say "look at the signs". */
const BY_SIGNS: ReadonlySet<string> = new Set(['signals', 'variable']);

/**
 * Reads the speed limit in metres per second: the one for driving `along` the way's own direction or against it,
 * else the highest of both. A number comes before a zone, a zone before the default by road class. Of several values
 * (a list `50;30`, one for each lane, one for each condition) the highest counts: it needs the longest warning.
 * `maxspeed:advisory` is no limit. Source of keys and values: OSM wiki, Key:maxspeed and its subkeys (from memory).
 */
export function readMaxspeed(tags: Tags, roadClass: RoadClass, along?: 'forward' | 'backward'): Maxspeed {
  // As nearly all are: one value, and no key that says more.
  const plain = tags.maxspeed === undefined ? undefined : parseSpeed(tags.maxspeed);
  if (plain !== undefined && !hasSubkey(tags)) return plain;
  const signs = readSigns(tags, along);
  const conditions = readValues(listConditional(tags, along).flatMap(splitConditions));
  const zone = signs.speeds.length > 0 ? NOTHING : readZone(tags);
  const known = [...signs.speeds, ...zone.speeds];
  // Where a lane, or the time outside of all conditions, has no limit in the data, the default may be the higher one.
  const needsDefault = known.length === 0 || signs.hasBlank;
  const all = [...known, ...conditions.speeds, ...(needsDefault ? [toDefault(roadClass)] : [])];
  const unread = [...signs.unread, ...zone.unread, ...conditions.unread];
  const isVariable = signs.isBySigns || conditions.speeds.length > 0 || isMarkedVariable(tags);
  return {
    speedMps: Math.max(...all.map(({ speedMps }) => speedMps)),
    assumed: all.some(({ assumed }) => assumed),
    ...(isVariable ? { variable: true } : {}),
    ...(unread.length === 0 ? {} : { unreadable: unread.join(';') }),
  };
}

function hasSubkey(tags: Tags): boolean {
  for (const key in tags) if (key.startsWith('maxspeed:')) return true;
  return false;
}

/** What some values say: the speeds, a place left empty, a word for signs, and what was not understood. */
type Values = {
  readonly speeds: readonly Speed[];
  readonly hasBlank: boolean;
  readonly isBySigns: boolean;
  readonly unread: readonly string[];
};
const NOTHING: Values = { speeds: [], hasBlank: false, isBySigns: false, unread: [] };

/** The limit of the road, else those of its lanes (`maxspeed:lanes=100|80`). */
function readSigns(tags: Tags, along: 'forward' | 'backward' | undefined): Values {
  const road = readValues(listTexts(tags, along, 'maxspeed').flatMap((text) => text.split(/[;|]/)));
  // A list may end in a separator; only a lane's place can be left empty on purpose.
  if (road.speeds.length > 0) return { ...road, hasBlank: false };
  const lanes = readValues(listTexts(tags, along, 'maxspeed:lanes').flatMap((text) => text.split(/[;|]/)));
  return {
    ...lanes,
    isBySigns: road.isBySigns || lanes.isBySigns,
    unread: [...road.unread, ...lanes.unread],
  };
}

/** The texts of a key for one direction, which come before those for both; without a direction all of them. */
function listTexts(tags: Tags, along: 'forward' | 'backward' | undefined, key: string): readonly string[] {
  const own = along === undefined ? undefined : tags[`${key}:${along}`];
  const keys = along === undefined ? [key, `${key}:forward`, `${key}:backward`] : [key];
  return own !== undefined ? [own] : keys.flatMap((name) => tags[name] ?? []);
}

/** Conditions hold besides each other: those of the direction and those of both. */
function listConditional(tags: Tags, along: 'forward' | 'backward' | undefined): readonly string[] {
  const directions = along === undefined ? (['forward', 'backward'] as const) : [along];
  const keys = ['maxspeed:conditional', ...directions.map((name) => `maxspeed:${name}:conditional`)];
  return keys.flatMap((name) => tags[name] ?? []);
}

/** `80 @ (22:00-06:00; wet); 60 @ snow` → 80, 60. */
function splitConditions(text: string): readonly string[] {
  const parts = text.replace(/\([^()]*\)/g, '').split(';');
  return parts.map((part) => /^([^@]+)@/.exec(part)?.[1] ?? part);
}

function readValues(texts: readonly string[]): Values {
  const values = texts.map((text) => text.trim());
  const read = values.map((text) => ({ text, speed: parseSpeed(text) }));
  return {
    speeds: read.flatMap(({ speed }) => speed ?? []),
    hasBlank: values.includes(''),
    isBySigns: values.some((text) => BY_SIGNS.has(text)),
    unread: read
      .filter(({ text, speed }) => speed === undefined && text !== '' && !BY_SIGNS.has(text))
      .map(({ text }) => text),
  };
}

/** The first zone that can be read; words that say where the limit is known from (`sign`, `survey`) are no zone. */
function readZone(tags: Tags): Values {
  const zone = tags['zone:maxspeed'];
  const texts = [
    zone !== undefined && /^\d{1,3}$/.test(zone) ? `zone${zone}` : zone,
    tags['maxspeed:type'],
    tags['source:maxspeed'],
  ].filter((text) => text !== undefined && isSpeedZone(text)) as string[];
  for (const text of texts) {
    const speed = parseSpeedZone(text);
    if (speed !== undefined) return { ...NOTHING, speeds: [speed] };
  }
  return { ...NOTHING, unread: texts };
}

function isMarkedVariable(tags: Tags): boolean {
  const marked = tags['maxspeed:variable'];
  return marked !== undefined && marked !== 'no';
}

function toDefault(roadClass: RoadClass): Speed {
  return { speedMps: DEFAULT_KMH[roadClass] / 3.6, assumed: true };
}

import type { Tags } from './extract.ts';
import type { RoadClass } from './read-highway.ts';

const KMH = 1 / 3.6;
/** The international mile per hour: 1609.344 m in 3600 s. */
const MPH = 1609.344 / 3600;
const KNOT = 1852 / 3600;

/** Walking pace and "no limit", as km/h (project defaults, no source). */
const WALK_KMH = 7;
const UNLIMITED_KMH = 130;

/** Speed limits by what a country code's suffix says, km/h (project defaults; codes differ from state to state). */
const ZONES_KMH: ReadonlyMap<string, number> = new Map([
  ['living_street', 10],
  ['walk', WALK_KMH],
  ['urban', 50],
  ['rural', 90],
  ['trunk', 100],
  ['motorway', 130],
  ['nsl_restricted', 50],
  ['nsl_single', 100],
  ['nsl_dual', 110],
]);

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
  /** The value was not in the data but taken from the defaults by road class. */
  readonly assumed: boolean;
  /** The value that was there and was not understood. */
  readonly unreadable?: string;
};

/**
 * Reads the speed limit in metres per second: the one for driving `along` the way's own direction or against it,
 * else the highest of both, which needs the longest warning. Of several values (`50;30`) the highest counts.
 */
export function readMaxspeed(tags: Tags, roadClass: RoadClass, along?: 'forward' | 'backward'): Maxspeed {
  const byDirection = [tags['maxspeed:forward'], tags['maxspeed:backward']];
  const own = along === undefined ? undefined : tags[`maxspeed:${along}`];
  const texts = (
    own !== undefined ? [own] : along !== undefined ? [tags.maxspeed] : [tags.maxspeed, ...byDirection]
  ).filter((text) => text !== undefined);
  const parts = texts.flatMap((text) => text.split(/[;|]/)).map((text) => text.trim());
  const speeds = parts.map(parseSpeed).filter((speed) => speed !== undefined);
  if (speeds.length > 0) return { speedMps: Math.max(...speeds), assumed: false };
  const byZone = parseZone(tags['maxspeed:type'] ?? tags['zone:maxspeed'] ?? tags['source:maxspeed'] ?? '');
  if (byZone !== undefined) return { speedMps: byZone, assumed: false };
  const assumed = { speedMps: DEFAULT_KMH[roadClass] * KMH, assumed: true };
  const silent = texts.length === 0 || parts.every((part) => part === 'signals' || part === 'variable');
  return silent ? assumed : { ...assumed, unreadable: texts.join(';') };
}

function parseSpeed(text: string): number | undefined {
  const number = /^(\d{1,3}(?:\.\d+)?)\s*(km\/h|kmh|kph|mph|knots)?$/i.exec(text);
  if (number !== null) {
    const unit = { mph: MPH, knots: KNOT }[number[2]?.toLowerCase() ?? ''] ?? KMH;
    const speedMps = Number(number[1]) * unit;
    return speedMps > 0 && speedMps <= 100 ? speedMps : undefined;
  }
  if (text === 'walk') return WALK_KMH * KMH;
  if (text === 'none') return UNLIMITED_KMH * KMH;
  return parseZone(text);
}

/** `GB:nsl_single`, `DE:urban`, `DE:zone:30`, `FR:zone30`, `BE:30`. */
function parseZone(text: string): number | undefined {
  const code = /^[A-Z]{2}(?:-[A-Z]+)?:(.+)$/.exec(text);
  const zone = code?.[1];
  if (zone === undefined) return undefined;
  const number = /^(?:zone:?)?(\d{1,3})$/.exec(zone)?.[1];
  const kmh = number !== undefined ? Number(number) : ZONES_KMH.get(zone);
  return kmh === undefined || kmh <= 0 ? undefined : kmh * KMH;
}

import type { Speed } from './parse-speed.ts';

const KMH = 1 / 3.6;
const MPH = 1609.344 / 3600;

/** Where a zone's number is in miles per hour. */
const IN_MILES: ReadonlySet<string> = new Set(['GB', 'UK', 'US']);

/**
 * Limits that a code names, metres per second. The British ones and 50 in towns are the law's own figures (OSM wiki,
 * Speed limits; from memory); living streets and walking pace are project defaults.
 */
const ZONES_MPS: ReadonlyMap<string, number> = new Map([
  ['living_street', 10 * KMH],
  ['walk', 7 * KMH],
  ['urban', 50 * KMH],
  ['bicycle_road', 30 * KMH],
  ['nsl_restricted', 30 * MPH],
  ['nsl_single', 60 * MPH],
  ['nsl_dual', 70 * MPH],
]);

/** What differs from state to state, km/h: OSM wiki, Speed limits (from memory). */
const BY_STATE_KMH: Readonly<Record<string, Readonly<Record<string, number>>>> = {
  rural: {
    ...{ AT: 100, CH: 80, CZ: 90, DE: 100, DK: 80, ES: 90, FI: 80, FR: 80, HU: 90, IT: 90 },
    ...{ NL: 80, NO: 80, PL: 90, PT: 90, RO: 90, RU: 90, SE: 70, SK: 90 },
  },
  motorway: {
    ...{ AT: 130, BE: 120, CH: 120, CZ: 130, DE: 130, DK: 130, ES: 120, FR: 130, HU: 130, IT: 130 },
    ...{ NL: 100, PL: 140, PT: 120, SE: 110, SK: 130 },
  },
};

/** Where the state is not in the table, km/h: project defaults, marked as assumed. */
const ELSEWHERE_KMH: Readonly<Record<string, number>> = { rural: 90, trunk: 100, motorway: 130 };

/** Reads a zone: `DE:urban`, `GB:nsl_single`, `DE:zone:30`, `FR:zone30`, `BE:30`, `zone30`; undefined for anything else. */
export function parseSpeedZone(text: string): Speed | undefined {
  const [, state, name] = /^(?:([A-Z]{2})(?:-[A-Z]+)?:)?(.+)$/.exec(text) ?? [];
  if (name === undefined) return undefined;
  const [, word, number] = /^(zone[: ]?)?(\d{1,3})$/.exec(name) ?? [];
  // A number alone is a zone only behind a state's code.
  if (number !== undefined && (word !== undefined || state !== undefined)) {
    const speedMps = Number(number) * (IN_MILES.has(state ?? '') ? MPH : KMH);
    return speedMps > 0 && speedMps <= 100 ? { speedMps, assumed: false } : undefined;
  }
  if (state === undefined) return undefined;
  const speedMps = ZONES_MPS.get(name);
  if (speedMps !== undefined) return { speedMps, assumed: false };
  const own = findOwn(findOwn(BY_STATE_KMH, name), state);
  const kmh = own ?? findOwn(ELSEWHERE_KMH, name);
  return kmh === undefined ? undefined : { speedMps: kmh * KMH, assumed: own === undefined };
}

/** Whether a text is meant as a state's code, readable or not. */
export function isSpeedZone(text: string): boolean {
  return /^[A-Z]{2}(?:-[A-Z]+)?:/.test(text) || /^zone/.test(text);
}

/** An entry of the table itself: the texts come from a file and may be `constructor`. */
function findOwn<T>(table: Readonly<Record<string, T>> | undefined, key: string): T | undefined {
  return table !== undefined && Object.hasOwn(table, key) ? table[key] : undefined;
}

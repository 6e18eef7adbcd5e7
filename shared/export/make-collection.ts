import type { Feature, FeatureCollection, Geometry } from 'geojson';
import { type LonLat, round7 } from '../geodesy/lon-lat.ts';
import { DEFAULT_RULES, RULES_VERSION, type Rules } from '../placement/rules.ts';
import type { Origin } from './origin.ts';

export const GENERATOR = 'Boremark 0.1';

/** A collection of ours: RFC 7946 with foreign members for origin and the values used. */
export type Collection<G extends Geometry = Geometry> = FeatureCollection<G> & {
  readonly attribution: string;
  readonly generator: string;
  /** When it was written, ISO 8601; only where a time was passed in, so that equal input gives equal bytes. */
  readonly generated?: string;
  /** A value for every rule, and the version of the set that they belong to. */
  readonly rules?: Rules;
  readonly rulesVersion?: number;
};

/** Wraps features, sorted by id. Rules that were kept before a rule was added get its default. */
export function makeCollection<G extends Geometry>(
  features: readonly Feature<G>[],
  origin: Origin,
  members: { readonly rules?: Rules; readonly generated?: string } = {},
): Collection<G> {
  const sorted = [...features].sort((a, b) => (String(a.id) < String(b.id) ? -1 : 1));
  return {
    type: 'FeatureCollection',
    attribution: origin.attribution,
    generator: GENERATOR,
    ...(members.generated === undefined ? {} : { generated: members.generated }),
    ...(members.rules === undefined
      ? {}
      : { rules: { ...DEFAULT_RULES, ...members.rules }, rulesVersion: RULES_VERSION }),
    features: sorted,
  };
}

/** A feature with a string id at feature level; properties without a value are left out. */
export function makeFeature<G extends Geometry>(
  id: string,
  geometry: G,
  properties: Readonly<Record<string, unknown>>,
): Feature<G> {
  const present = Object.entries(properties).filter(([, value]) => value !== undefined && value !== null);
  return { type: 'Feature', id, geometry, properties: Object.fromEntries(present) };
}

/** Position with the exports' 7 decimals. */
export function toPosition([lon, lat]: LonLat): [number, number] {
  return [round7(lon), round7(lat)];
}

/** Metres to the millimetre, seconds to the tenth and so on: no more digits than are meant. */
export function roundTo(value: number, decimals: number): number {
  const factor = 10 ** decimals;
  return Math.round(value * factor) / factor;
}

/** km/h for people; the core works in metres per second. */
export function toKmh(speedMps: number): number {
  return roundTo(speedMps * 3.6, 1);
}

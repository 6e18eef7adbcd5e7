import profile from '../../data/profiles/traffic.json';
import type { Link } from '../network/network.ts';
import type { RoadClass } from '../osm/read-highway.ts';
import type { LinkTraffic } from './traffic.ts';

/** Where the defaults are from, for people to read; the version rises whenever one of them changes. */
export const TRAFFIC_DEFAULTS: {
  readonly version: number;
  readonly source: string;
  readonly vehiclesPerDay: Readonly<
    Record<RoadClass, { readonly oneWay: number; readonly bothWays: number }>
  >;
} = profile;

/** The traffic that is assumed where nobody counted: by road class, for both directions together on a two-way bore. */
export function assumeTraffic({ roadClass, direction }: Link): LinkTraffic {
  const { oneWay, bothWays } = TRAFFIC_DEFAULTS.vehiclesPerDay[roadClass];
  // A reversible bore carries one direction at a time.
  return { vehiclesPerDay: direction === 'both' ? bothWays : oneWay, source: 'class' };
}

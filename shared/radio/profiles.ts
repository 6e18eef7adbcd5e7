import beacons from '../../data/profiles/beacons.json';
import receivers from '../../data/profiles/receivers.json';
import type { FieldSpec } from './check-values.ts';

type BeaconField = keyof typeof beacons.fields;
type ReceiverField = keyof typeof receivers.fields;

/** How a beacon sends; units are in the names, ranges and sources in BEACON_FIELDS. */
export type BeaconProfile = Readonly<Record<BeaconField, number>>;
/** How a receiver in a car listens; units are in the names, ranges and sources in RECEIVER_FIELDS. */
export type ReceiverProfile = Readonly<Record<ReceiverField, number>>;
export type BeaconProfileId = keyof typeof beacons.profiles;
export type ReceiverProfileId = keyof typeof receivers.profiles;

/** The set that the values are from; raised whenever one of them changes. */
export const PROFILE_VERSIONS = { beacons: beacons.version, receivers: receivers.version } as const;

export const BEACON_FIELDS: Readonly<Record<BeaconField, FieldSpec>> = beacons.fields;
export const RECEIVER_FIELDS: Readonly<Record<ReceiverField, FieldSpec>> = receivers.fields;
export const BEACON_PROFILES: Readonly<Record<BeaconProfileId, BeaconProfile>> = beacons.profiles;
export const RECEIVER_PROFILES: Readonly<Record<ReceiverProfileId, ReceiverProfile>> = receivers.profiles;

/** Radiated power of a beacon towards the road (EIRP), dBm: transmit power and antenna gain. */
export function eirpDbm({
  txPowerDbm,
  antennaDbi,
}: Pick<BeaconProfile, 'txPowerDbm' | 'antennaDbi'>): number {
  return txPowerDbm + antennaDbi;
}

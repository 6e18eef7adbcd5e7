import type { BeaconId, Pin } from './beacon.ts';

export type NextId = (prefix: string) => BeaconId;

/** Numbers beacons upwards, leaving out what the pins carry; ids stay the same as long as the layout does. */
export function makeIds(pins: readonly Pin[]): NextId {
  const taken = new Set<string>(pins.map((pin) => pin.id));
  const last = new Map<string, number>();
  return (prefix) => {
    let number = (last.get(prefix) ?? 0) + 1;
    while (taken.has(`${prefix}${number}`)) number += 1;
    last.set(prefix, number);
    return `${prefix}${number}` as BeaconId;
  };
}

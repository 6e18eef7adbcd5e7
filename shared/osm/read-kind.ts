import type { Tags } from './extract.ts';

/** What a way is above a driver's head. */
export type Roof = 'open' | 'tunnel' | 'covered' | 'gallery';

const NO_TUNNEL: ReadonlySet<string> = new Set(['no', 'false', '0']);

/** Values that say "under something", but not in a bore: water, or a passage through a house. */
export const NOT_A_BORE: ReadonlySet<string> = new Set(['culvert', 'passage', 'building_passage']);

/** Reads `tunnel` and `covered`: a bore, a covered road, a gallery open at the side, or the open air. */
export function readRoof(tags: Tags): Roof {
  const tunnel = tags.tunnel;
  if (tunnel === 'avalanche_protector') return 'gallery';
  if (tunnel !== undefined && !NO_TUNNEL.has(tunnel) && !NOT_A_BORE.has(tunnel)) return 'tunnel';
  return tags.covered === 'yes' ? 'covered' : 'open';
}

/** Whether the way says anything about a roof at all: then leaving it out must leave a finding. */
export function namesTunnel(tags: Tags): boolean {
  return (tags.tunnel !== undefined && !NO_TUNNEL.has(tags.tunnel)) || tags.covered === 'yes';
}

const NOT_IN_USE = ['construction', 'proposed', 'abandoned', 'disused', 'razed', 'demolished', 'planned'];

/** Under construction, proposed or given up: the value that says so, or undefined. */
export function findNotInUse(tags: Tags): string | undefined {
  if (NOT_IN_USE.includes(tags.highway ?? '')) return tags.highway;
  if (tags.highway === undefined) {
    const prefix = NOT_IN_USE.find((state) => tags[`${state}:highway`] !== undefined);
    if (prefix !== undefined) return prefix;
  }
  return NOT_IN_USE.find((state) => tags[state] === 'yes');
}

const CLOSED_ACCESS: ReadonlySet<string> = new Set(['private', 'no']);
const INNER_SERVICE: ReadonlySet<string> = new Set(['parking_aisle', 'driveway']);

/** `access=private|no` (unless motor vehicles are let in) and `service=parking_aisle|driveway`. */
export function isRestricted(tags: Tags): boolean {
  const access = tags.motorcar ?? tags.motor_vehicle ?? tags.vehicle ?? tags.access ?? '';
  return CLOSED_ACCESS.has(access) || INNER_SERVICE.has(tags.service ?? '');
}

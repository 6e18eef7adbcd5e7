import type { Link } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';
import { type Interval, type KeepOut, makeKeptOut } from '../placement/keep-out.ts';
import type { Measured } from './make-check.ts';

/**
 * For each beacon: how many metres inside a stretch it stands where nothing may be mounted on its wall, to the nearer
 * end of it along the link; 0 outside. Empty without any keep-out.
 */
export function listKeptOutDepths(
  links: readonly Link[],
  beacons: readonly Beacon[],
  keepOuts: readonly KeepOut[],
): readonly Measured[] {
  if (keepOuts.length === 0) return [];
  const listKeptOut = makeKeptOut(keepOuts);
  const byId = new Map(links.map((link) => [link.id, link]));
  return beacons.flatMap(({ id, at, side }) => {
    const link = byId.get(at.linkId);
    if (link === undefined) return [];
    const found = listKeptOut(link, side).reduce(
      (most, keptOut) => Math.max(most, depthIn(keptOut, at.chainageM, link.lengthM)),
      0,
    );
    return [{ found, at, beaconId: id }];
  });
}

/** What reaches an end of the link can only be left by the other one. */
function depthIn([fromM, toM]: Interval, chainageM: number, lengthM: number): number {
  const backM = fromM < 0 ? lengthM : chainageM - fromM;
  const onM = toM > lengthM ? lengthM : toM - chainageM;
  return chainageM > fromM && chainageM < toM ? Math.min(backM, onM) : 0;
}

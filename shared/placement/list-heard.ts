import type { Link } from '../network/network.ts';
import { makeCoverage } from '../radio/cover-bores.ts';
import type { Beacon } from './beacon.ts';
import type { Heard } from './design.ts';
import { makeRadius } from './make-radius.ts';
import type { Rules } from './rules.ts';

/**
 * Along which stretches each beacon is heard, in the order of the beacons: up to its own radius where it has one, else
 * up to the one that the rules give for its place. A beacon on none of the links is heard nowhere.
 */
export function listHeard(
  links: readonly Link[],
  rules: Rules,
  beacons: readonly Beacon[],
): readonly Heard[] {
  const byId = new Map(links.map((link) => [link.id, link]));
  const radiusAt = makeRadius(rules);
  const cover = makeCoverage(links);
  return beacons.map(({ id, at, radiusM: ownM }) => {
    const link = byId.get(at.linkId);
    const radiusM = ownM ?? (link === undefined ? 0 : radiusAt(link, at.chainageM));
    return { beaconId: id, radiusM, stretches: cover(at, radiusM) };
  });
}

import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import { byText } from '../outcome/by-text.ts';
import type { Beacon } from '../placement/beacon.ts';
import type { Design } from '../placement/design.ts';
import { findEndNode } from '../placement/list-places.ts';
import type { LinkStretch } from '../radio/cover-bores.ts';
import { keyOfText } from './chance.ts';

/** A beacon as drives meet it. */
export type Sender = {
  readonly key: number;
  readonly at: Beacon['at'];
  /** The node that it stands at, where it stands at an end of its link: it is met on every link there. */
  readonly node: number | undefined;
  readonly radiusM: number;
  /** Other beacons that are heard where it stands. */
  readonly otherBeacons: number;
  /** Along which stretches it is heard. */
  readonly stretches: readonly LinkStretch[];
};

/** Lists the beacons of a design, sorted by id, whatever order they came in. */
export function listSenders(
  { links }: Pick<ComplexNetwork, 'links'>,
  { beacons, coverage }: Pick<Design, 'beacons' | 'coverage'>,
): readonly Sender[] {
  const byId = new Map<LinkId, Link>(links.map((link) => [link.id, link]));
  const heard = new Map(coverage.map((one) => [one.beaconId, one]));
  const onLink = new Map<LinkId, LinkStretch[]>();
  for (const stretch of coverage.flatMap(({ stretches }) => stretches)) {
    const known = onLink.get(stretch.linkId);
    if (known === undefined) onLink.set(stretch.linkId, [stretch]);
    else known.push(stretch);
  }
  return [...beacons]
    .sort((a, b) => byText(a.id, b.id))
    .flatMap(({ id, at }): Sender[] => {
      const own = heard.get(id);
      // A beacon that nobody hears gives no fix.
      if (own === undefined) return [];
      const around = (onLink.get(at.linkId) ?? []).filter(
        ({ fromM, toM }) => fromM <= at.chainageM && at.chainageM <= toM,
      );
      const node = findEndNode(byId.get(at.linkId), at.chainageM);
      const otherBeacons = Math.max(0, around.length - 1);
      const { radiusM, stretches } = own;
      return [{ key: keyOfText(id), at, node, radiusM, otherBeacons, stretches }];
    });
}

import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import type { ApproachTraffic } from './misguided.ts';
import type { Traffic } from './traffic.ts';

/**
 * The traffic of each link in one direction, vehicles per day: half of both together where the link is driven both
 * ways. What is taken from the road class is assumed. Throws where a link has no traffic.
 */
export function listApproaches(
  links: readonly Link[],
  { byLink }: Pick<Traffic, 'byLink'>,
): ReadonlyMap<LinkId, ApproachTraffic> {
  return new Map(
    links.map(({ id, direction }) => {
      const traffic = byLink[id];
      if (traffic === undefined) throw new Error(`no traffic for link ${id}`);
      const vehiclesPerDay = direction === 'forward' ? traffic.vehiclesPerDay : traffic.vehiclesPerDay / 2;
      return [id, { vehiclesPerDay, isAssumed: traffic.source === 'class' }];
    }),
  );
}

/**
 * What enters a complex in a day: the sum over the links that lead in from its entry portals, assumed where any of
 * them is. Who comes through a short opening has entered before. Throws where a link has no traffic.
 */
export function countEntering(
  { complex, links }: ComplexNetwork,
  approaches: ReadonlyMap<LinkId, ApproachTraffic>,
): ApproachTraffic {
  const again = new Set(complex.openings.map(({ toNode }) => toNode));
  const entries = new Set(
    complex.portals.flatMap(({ direction, osmNode }) =>
      direction === 'out' || again.has(osmNode) ? [] : [osmNode],
    ),
  );
  let vehiclesPerDay = 0;
  let isAssumed = false;
  for (const { id, direction, fromNode, toNode } of links) {
    const starts = direction === 'forward' ? [fromNode] : [fromNode, toNode];
    const count = starts.filter((node) => entries.has(node)).length;
    const approach = approaches.get(id);
    if (approach === undefined) throw new Error(`no traffic for link ${id}`);
    vehiclesPerDay += count * approach.vehiclesPerDay;
    isAssumed ||= count > 0 && approach.isAssumed;
  }
  return { vehiclesPerDay, isAssumed };
}

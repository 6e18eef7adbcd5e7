import type { ComplexNetwork, Link, LinkId } from '../network/network.ts';
import type { Beacon } from '../placement/beacon.ts';

/** A beacon this near to the end of its link stands at the node there, and is met on every link of the node. */
const AT_NODE_M = 0.01;

/**
 * The longest drive without a fix on any listed route, metres: found by driving each of them from portal to portal,
 * beacon by beacon, and not from what the program knows about gaps. The open air gives a fix at both ends of a route
 * and of an opening.
 */
export function findLongestGapM({ complex, links }: ComplexNetwork, beacons: readonly Beacon[]): number {
  const byId = new Map<LinkId, Link>(links.map((link) => [link.id, link]));
  const nodes = new Set<number>();
  const inside = new Map<LinkId, number[]>();
  for (const { at } of beacons) {
    const link = byId.get(at.linkId) as Link;
    if (at.chainageM <= AT_NODE_M) nodes.add(link.fromNode);
    else if (at.chainageM >= link.lengthM - AT_NODE_M) nodes.add(link.toNode);
    else inside.set(at.linkId, [...(inside.get(at.linkId) ?? []), at.chainageM]);
  }
  let longestM = 0;
  for (const { steps } of complex.routes) {
    let fixM = 0;
    let drivenM = 0;
    const meet = (atM: number) => {
      longestM = Math.max(longestM, atM - fixM);
      fixM = atM;
    };
    for (const { linkId, against, opening } of steps) {
      const link = byId.get(linkId) as Link;
      if (opening !== undefined || nodes.has(against ? link.toNode : link.fromNode)) meet(drivenM);
      const places = (inside.get(linkId) ?? []).map((m) => (against ? link.lengthM - m : m));
      for (const m of places.sort((a, b) => a - b)) meet(drivenM + m);
      drivenM += link.lengthM;
      if (nodes.has(against ? link.fromNode : link.toNode)) meet(drivenM);
    }
    meet(drivenM);
  }
  return longestM;
}

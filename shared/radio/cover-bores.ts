import type { LineAddress } from '../alignment/line-address.ts';
import type { Link, LinkId } from '../network/network.ts';

/** A stretch of one link, chainages in metres. */
export type LinkStretch = { readonly linkId: LinkId; readonly fromM: number; readonly toM: number };

/**
 * Makes a function that tells along which stretches a receiver hears a beacon: `radiusM` along the bores in both
 * directions and through every fork and merge, because the air is shared there, but never through rock: links
 * that do not meet at a node do not hear each other. Stretches are sorted by link and do not overlap.
 */
export function makeCoverage(
  links: readonly Link[],
): (at: LineAddress, radiusM: number) => readonly LinkStretch[] {
  const byId = new Map(links.map((link) => [link.id, link]));
  const atNode = new Map<number, Link[]>();
  for (const link of links) {
    for (const node of new Set([link.fromNode, link.toNode])) {
      atNode.set(node, [...(atNode.get(node) ?? []), link]);
    }
  }
  return (at, radiusM) => {
    const own = byId.get(at.linkId);
    if (own === undefined) return [];
    const stretches = [clip(own, at.chainageM - radiusM, at.chainageM + radiusM)];
    for (const [node, leftM] of reach(own, at.chainageM, radiusM, atNode)) {
      for (const link of atNode.get(node) ?? []) {
        if (link.fromNode === node) stretches.push(clip(link, 0, leftM));
        if (link.toNode === node) stretches.push(clip(link, link.lengthM - leftM, link.lengthM));
      }
    }
    return merge(stretches);
  };
}

/** The nodes that are heard, with what is left of the radius there. */
function reach(
  own: Link,
  chainageM: number,
  radiusM: number,
  atNode: ReadonlyMap<number, readonly Link[]>,
): ReadonlyMap<number, number> {
  const left = new Map<number, number>();
  const open = [
    { node: own.fromNode, leftM: radiusM - chainageM },
    { node: own.toNode, leftM: radiusM - (own.lengthM - chainageM) },
  ];
  while (open.length > 0) {
    const { node, leftM } = open.pop() as { node: number; leftM: number };
    if (leftM <= 0 || leftM <= (left.get(node) ?? 0)) continue;
    left.set(node, leftM);
    for (const link of atNode.get(node) ?? []) {
      const far = link.fromNode === node ? link.toNode : link.fromNode;
      open.push({ node: far, leftM: leftM - link.lengthM });
    }
  }
  return left;
}

function clip(link: Link, fromM: number, toM: number): LinkStretch {
  return { linkId: link.id, fromM: Math.max(0, fromM), toM: Math.min(link.lengthM, toM) };
}

function merge(stretches: readonly LinkStretch[]): readonly LinkStretch[] {
  const sorted = [...stretches].sort((a, b) =>
    a.linkId === b.linkId ? a.fromM - b.fromM : a.linkId < b.linkId ? -1 : 1,
  );
  const merged: LinkStretch[] = [];
  for (const stretch of sorted) {
    const last = merged.at(-1);
    if (last?.linkId === stretch.linkId && stretch.fromM <= last.toM) {
      merged[merged.length - 1] = { ...last, toM: Math.max(last.toM, stretch.toM) };
    } else merged.push(stretch);
  }
  return merged;
}

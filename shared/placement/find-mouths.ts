import { isBeyond } from '../alignment/is-beyond.ts';
import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import { placeBeside } from '../alignment/place-beside.ts';
import type { Link, LinkId } from '../network/network.ts';
import type { Wall } from './beacon.ts';
import type { Interval } from './keep-out.ts';
import type { Rules } from './rules.ts';
import { halfWidthM, wallOffsetM } from './wall-offset.ts';

/** Whether a wall's place lies on the carriageway of a link that begins or ends at the same node: there is no wall. */
export type IsMouth = (linkId: LinkId, chainageM: number, wall: Wall) => boolean;

/** How far from a node another link's mouth may open a wall, metres. */
const NEAR_M = 40;
/** How finely mouths are looked for, metres. */
const STEP_M = 0.5;
/** A place nearer to the middle of a carriageway than this share of its half width is on it: lanes end and begin at forks. */
const ON_SHARE = 0.8;

/** What lies farther past the end of a carriageway is behind it, metres. */
const BEHIND_M = 0.5;

/** Makes the check for the mouths of ramps and crossings in the walls of the links that they leave. */
export function findMouths(links: readonly Link[], rules: Rules): IsMouth {
  const atNode = new Map<number, Link[]>();
  for (const link of links) {
    for (const node of new Set([link.fromNode, link.toNode])) {
      const own = atNode.get(node);
      if (own === undefined) atNode.set(node, [link]);
      else own.push(link);
    }
  }
  const byId = new Map(links.map((link) => [link.id, link]));
  const rulers = new Map<LinkId, Ruler>();
  const rulerOf = (link: Link) => {
    const known = rulers.get(link.id) ?? makeRuler(link.line);
    rulers.set(link.id, known);
    return known;
  };
  return (linkId, chainageM, wall) => {
    const link = byId.get(linkId);
    if (link === undefined) return false;
    const near = [
      ...(chainageM < NEAR_M ? (atNode.get(link.fromNode) ?? []) : []),
      ...(link.lengthM - chainageM < NEAR_M ? (atNode.get(link.toNode) ?? []) : []),
    ].filter((other) => other !== link);
    if (near.length === 0) return false;
    const ruler = rulerOf(link);
    const place = placeBeside(
      ruler,
      Math.min(ruler.lengthM, Math.max(0, chainageM)),
      wallOffsetM(link, chainageM, rules, wall),
    );
    if (!place.ok) return false;
    return near.some((other) => {
      const beside = rulerOf(other);
      const found = beside.locate(place.value);
      const isBehind = isBeyond(beside, found.chainageM, place.value, BEHIND_M);
      return !isBehind && found.distanceM < ON_SHARE * halfWidthM(other, found.chainageM, rules);
    });
  };
}

/** The stretches of a link along which one of its walls is open, up to the first place where both are whole. */
export function listMouths({ id, lengthM }: Link, isMouth: IsMouth): readonly Interval[] {
  const isOpen = (chainageM: number) => isMouth(id, chainageM, 'left') || isMouth(id, chainageM, 'right');
  return [(m: number) => m, (m: number) => lengthM - m].flatMap((toChainage): Interval[] => {
    const mostM = Math.min(NEAR_M, lengthM);
    const steps = Math.floor(mostM / STEP_M);
    const last = Array.from({ length: steps + 1 }, (_, i) => i * STEP_M).findLast((m) =>
      isOpen(toChainage(m)),
    );
    if (last === undefined) return [];
    const [fromM, toM] = [toChainage(-STEP_M), toChainage(last + STEP_M)];
    return [fromM < toM ? [fromM, toM] : [toM, fromM]];
  });
}

import { byText } from '../outcome/by-text.ts';
import type { LinkRulers } from './link-rulers.ts';
import type { LinkPiece } from './match-links.ts';
import type { Link } from './network.ts';

/** A stretch between two nodes may have become this much longer or shorter: half of it and 30 m. Project default. */
const STRETCH_SHARE = 0.5;
const STRETCH_M = 30;

type Place = Pick<LinkPiece, 'afterId' | 'atFromM' | 'atToM'>;
type NodePlace = { readonly link: Link; readonly atM: number; readonly ways: ReadonlySet<number> };

/**
 * Makes the function that finds the segment between a link's `segment`th node and the next, `lengthM` long, on a link
 * of `after` that has both nodes: the one of the same id, else of the same way, else of the same direction, else of
 * the length that fits best. Undefined where there is none of about that length.
 */
export function makeNodeMatch(
  after: readonly Link[],
  rulers: LinkRulers,
): (link: Link, segment: number, lengthM: number) => Place | undefined {
  const places = new Map<number, NodePlace[]>();
  for (const link of after) {
    const { vertexM } = rulers(link).ruler;
    const ways = listWays(link);
    link.nodes.forEach((node, i) => {
      const list = places.get(node) ?? [];
      list.push({ link, atM: vertexM[i] as number, ways });
      places.set(node, list);
    });
  }
  return (link, segment, lengthM) => {
    const ends = places.get(link.nodes[segment + 1] as number) ?? [];
    const ways = listWays(link);
    const pairs = (places.get(link.nodes[segment] as number) ?? []).flatMap((start) =>
      ends
        .filter((end) => end.link === start.link && end.atM !== start.atM)
        .flatMap((end) => rate(link, ways, lengthM, start, end) ?? []),
    );
    return pairs.sort(
      (a, b) =>
        a.strangeness - b.strangeness || a.misfitM - b.misfitM || byText(a.place.afterId, b.place.afterId),
    )[0]?.place;
  };
}

function listWays(link: Link): ReadonlySet<number> {
  return new Set(link.stretches.map(({ wayId }) => wayId));
}

function rate(link: Link, ways: ReadonlySet<number>, lengthM: number, start: NodePlace, end: NodePlace) {
  const other = start.link;
  const misfitM = Math.abs(Math.abs(end.atM - start.atM) - lengthM);
  if (misfitM > STRETCH_SHARE * lengthM + STRETCH_M) return undefined;
  const isSameWay = [...ways].some((way) => start.ways.has(way));
  const isReversed = end.atM < start.atM;
  // Two one-way bores between the same nodes are twins, unless the way itself was turned round.
  const areTwins = isReversed && link.direction === 'forward' && other.direction === 'forward';
  if (areTwins && !isSameWay) return undefined;
  const strangeness = (link.id === other.id ? 0 : 4) + (isSameWay ? 0 : 2) + (isReversed ? 1 : 0);
  return { place: { afterId: other.id, atFromM: start.atM, atToM: end.atM }, misfitM, strangeness };
}

import { makeRuler } from '../alignment/make-ruler.ts';
import { localDelta } from '../geodesy/segment.ts';
import type { Link, LinkId } from '../network/network.ts';
import type { Wall } from './beacon.ts';
import type { Rules } from './rules.ts';
import { halfWidthM } from './wall-offset.ts';

/**
 * What is so beside an end of a link where it runs along with another one past a fork or before a merge: as far as
 * `roomM` from the end both are one room, without a wall between them; `outer` is the wall away from the other link,
 * seen in the direction of chainage, undefined where there are others on both sides.
 */
export type Split = { readonly roomM: number; readonly outer: Wall | undefined };

/** By link: the splits at its start and at its end; absent where no other link runs along with it there. */
export type Splits = ReadonlyMap<LinkId, { readonly atStart?: Split; readonly atEnd?: Split }>;

/** How finely the carriageways are compared, metres. */
const STEP_M = 2.5;
/** Two links that leave a node within this of each other run along, degrees. */
const ALONG_DEG = 60;
/** Directions are taken this far from the node, metres: the first metres of a ramp are drawn anyhow. */
const LOOK_M = 15;

/**
 * Measures how far from each fork and merge the carriageways that part or meet there are still one room: until their
 * middles are farther apart than both half widths and both shoulders, which is where walls can stand between them.
 */
export function measureSplits(links: readonly Link[], rules: Rules): Splits {
  const ends = links.flatMap((link): End[] => {
    const ruler = makeRuler(link.line);
    const pointAt = (fromEndM: number, atStart: boolean) => {
      const alongM = Math.min(link.lengthM, ruler.lengthM, fromEndM);
      const at = ruler.pointAt(atStart ? alongM : ruler.lengthM - alongM);
      if (!at.ok) throw new Error(`a split lies outside link ${link.id}`);
      return at.value;
    };
    return [true, false].map((atStart) => ({
      link,
      atStart,
      node: atStart ? link.fromNode : link.toNode,
      place: (fromEndM: number) => pointAt(fromEndM, atStart),
    }));
  });
  const atNode = new Map<number, End[]>();
  for (const end of ends) atNode.set(end.node, [...(atNode.get(end.node) ?? []), end]);
  const splits = new Map<LinkId, { atStart?: Split; atEnd?: Split }>();
  for (const end of ends) {
    const split = measureSplit(end, atNode.get(end.node) ?? [], rules);
    if (split === undefined) continue;
    const own = splits.get(end.link.id) ?? {};
    splits.set(end.link.id, { ...own, [end.atStart ? 'atStart' : 'atEnd']: split });
  }
  return splits;
}

/** One end of a link, with the places at a distance from it. */
type End = {
  readonly link: Link;
  readonly atStart: boolean;
  readonly node: number;
  place(fromEndM: number): readonly [number, number];
};

function measureSplit(end: End, atNode: readonly End[], rules: Rules): Split | undefined {
  const others = atNode.filter((other) => other !== end && angleBetween(end, other) < ALONG_DEG);
  if (others.length === 0) return undefined;
  const roomM = Math.max(...others.map((other) => measureRoom(end, other, rules)));
  const sides = new Set(others.map((other) => sideOf(end, other, roomM)));
  // Seen away from the node; at the end of a link that is against its chainage.
  const away: Wall = sides.has('right') ? 'left' : 'right';
  const outer = end.atStart ? away : away === 'left' ? 'right' : 'left';
  return { roomM, outer: sides.size > 1 ? undefined : outer };
}

function measureRoom(end: End, other: End, rules: Rules): number {
  const endM = Math.min(end.link.lengthM, other.link.lengthM);
  for (let atM = STEP_M; atM < endM; atM += STEP_M) {
    const halves = [end, other].map(({ link, atStart }) =>
      halfWidthM(link, atStart ? atM : link.lengthM - atM, rules),
    );
    const wallM = (halves[0] as number) + (halves[1] as number) + 2 * rules.shoulderM;
    if (distance(end.place(atM), other.place(atM)) >= wallM) return atM;
  }
  return endM;
}

function distance(a: readonly [number, number], b: readonly [number, number]): number {
  const { east, north } = localDelta(a, b);
  return Math.hypot(east, north);
}

function angleBetween(one: End, other: End): number {
  const [a, b] = [headingOf(one), headingOf(other)];
  const between = Math.abs(a - b) % 360;
  return Math.min(between, 360 - between);
}

/** Where a link is heading away from its end, degrees from north. */
function headingOf(end: End): number {
  const { east, north } = localDelta(end.place(0), end.place(LOOK_M));
  return (Math.atan2(east, north) * 180) / Math.PI;
}

/** On which side of a link another one lies where they part, both seen away from the node that they share. */
function sideOf(end: End, other: End, roomM: number): Wall {
  const lookM = Math.max(roomM, LOOK_M);
  const [node, own] = [end.place(0), end.place(lookM)];
  const ahead = localDelta(node, own);
  const aside = localDelta(own, other.place(lookM));
  return aside.east * ahead.north - aside.north * ahead.east >= 0 ? 'right' : 'left';
}

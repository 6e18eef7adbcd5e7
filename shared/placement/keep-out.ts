import type { Link, LinkId } from '../network/network.ts';
import { WALLS, type Wall } from './beacon.ts';

/** More than anybody marks in one tunnel. */
export const MAX_KEEP_OUTS = 2000;

export const KEPT_WALLS = [...WALLS, 'both'] as const;

/** A stretch of a link where nothing may be mounted on one wall or on both: a niche, door, fan, sign or joint. */
export type KeepOut = {
  readonly id: string;
  readonly linkId: LinkId;
  readonly fromM: number;
  readonly toM: number;
  readonly wall: (typeof KEPT_WALLS)[number];
  /** What is in the way, in the user's words; may be empty. */
  readonly reason: string;
};

/** A stretch in metres of chainage, its ends included in neither. */
export type Interval = readonly [fromM: number, toM: number];

/**
 * Whether nothing may be mounted at a place. At the very ends of a keep-out it may, but not at the end of the link
 * where the keep-out reaches it: it goes on outside.
 */
export function isKeptOut(
  keepOuts: readonly KeepOut[],
  link: Pick<Link, 'id' | 'lengthM'>,
  chainageM: number,
  wall: Wall,
): boolean {
  return listKeptOut(keepOuts, link, wall).some(([fromM, toM]) => chainageM > fromM && chainageM < toM);
}

/**
 * The stretches of one wall of a link where nothing may be mounted, sorted; those that touch or overlap are one. One
 * that reaches an end of the link goes on past it.
 */
export function listKeptOut(
  keepOuts: readonly KeepOut[],
  { id, lengthM }: Pick<Link, 'id' | 'lengthM'>,
  wall: Wall,
): readonly Interval[] {
  const own = keepOuts
    .filter((one) => one.linkId === id && (one.wall === wall || one.wall === 'both'))
    .map(
      ({ fromM, toM }): Interval => [
        fromM <= AT_END_M ? -PAST_M : fromM,
        toM >= lengthM - AT_END_M ? lengthM + PAST_M : toM,
      ],
    )
    .sort((a, b) => a[0] - b[0]);
  // Two that only touch leave no room for a beacon between them.
  return uniteIntervals(own);
}

/** The same stretches, sorted; those that touch or overlap are one. */
export function uniteIntervals(intervals: readonly Interval[]): readonly Interval[] {
  const united: [number, number][] = [];
  for (const [fromM, toM] of [...intervals].sort((a, b) => a[0] - b[0])) {
    const last = united.at(-1);
    if (last !== undefined && fromM <= last[1]) last[1] = Math.max(last[1], toM);
    else united.push([fromM, toM]);
  }
  return united;
}

/** Makes the function that gives what `listKeptOut` does, for many questions: each wall of a link is looked at once. */
export function makeKeptOut(
  keepOuts: readonly KeepOut[],
): (link: Pick<Link, 'id' | 'lengthM'>, wall: Wall) => readonly Interval[] {
  const known = new Map<string, readonly Interval[]>();
  return (link, wall) => {
    const key = `${wall} ${link.id}`;
    const kept = known.get(key) ?? listKeptOut(keepOuts, link, wall);
    known.set(key, kept);
    return kept;
  };
}

/** How near to an end of its link a keep-out reaches it, metres. */
const AT_END_M = 0.01;
/** How far past the end it goes on then, metres: any way at all. */
const PAST_M = 1;

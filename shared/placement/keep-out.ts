import type { LinkId } from '../network/network.ts';
import { WALLS, type Wall } from './beacon.ts';

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

/** Whether nothing may be mounted at a place; at the very ends of a keep-out it may. */
export function isKeptOut(
  keepOuts: readonly KeepOut[],
  linkId: LinkId,
  chainageM: number,
  wall: Wall,
): boolean {
  return keepOuts.some(
    (keepOut) =>
      keepOut.linkId === linkId &&
      (keepOut.wall === wall || keepOut.wall === 'both') &&
      chainageM > keepOut.fromM &&
      chainageM < keepOut.toM,
  );
}

/** The stretches of one wall of a link where nothing may be mounted, sorted; those that touch or overlap are one. */
export function listKeptOut(keepOuts: readonly KeepOut[], linkId: LinkId, wall: Wall): readonly Interval[] {
  const own = keepOuts
    .filter((one) => one.linkId === linkId && (one.wall === wall || one.wall === 'both'))
    .sort((a, b) => a.fromM - b.fromM);
  const united: [number, number][] = [];
  for (const { fromM, toM } of own) {
    const last = united.at(-1);
    // Two that only touch leave no room for a beacon between them.
    if (last !== undefined && fromM <= last[1]) last[1] = Math.max(last[1], toM);
    else united.push([fromM, toM]);
  }
  return united;
}

import type { Link, LinkId } from '../network/network.ts';
import type { Wall } from './beacon.ts';
import type { Splits } from './measure-splits.ts';
import type { Rules } from './rules.ts';

/** The wall that carries a beacon at a place; `side` alternate and both begin from it. */
export type WallAt = (linkId: LinkId, chainageM: number) => Wall;

/**
 * Makes the function that names the wall which the rules ask for at a place: where bores part or meet and are still
 * one room, the outer wall whatever the rules say, because on the inner side there is no wall but the other
 * carriageway.
 */
export function makeWalls(links: readonly Link[], rules: Rules, splits: Splits): WallAt {
  const lengths = new Map(links.map((link) => [link.id, link.lengthM]));
  const wanted = rules.side === 'left' || rules.side === 'right' ? rules.side : rules.drivingSide;
  return (linkId, chainageM) => {
    const { atStart, atEnd } = splits.get(linkId) ?? {};
    if (atStart?.outer !== undefined && chainageM < atStart.roomM) return atStart.outer;
    const fromEndM = (lengths.get(linkId) ?? 0) - chainageM;
    if (atEnd?.outer !== undefined && fromEndM < atEnd.roomM) return atEnd.outer;
    return wanted;
  };
}

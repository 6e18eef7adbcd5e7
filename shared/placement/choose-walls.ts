import type { Link, LinkId } from '../network/network.ts';
import { otherWall, type Wall } from './beacon.ts';
import { findMouths, type IsMouth } from './find-mouths.ts';
import type { Splits } from './measure-splits.ts';
import type { Rules } from './rules.ts';

/** The wall that carries a beacon at a place; `side` alternate and both begin from it. */
export type WallAt = (linkId: LinkId, chainageM: number) => Wall;

/** The walls of a complex as the rules want them, and where they are none. */
export type Walls = { readonly at: WallAt; readonly isMouth: IsMouth };

/**
 * Tells the wall which the rules ask for at a place: where bores part or meet and are still
 * one room, the outer wall whatever the rules say, because on the inner side there is no wall but the other
 * carriageway; and never the wall in which another link has its mouth, where the one across the road is whole.
 */
export function makeWalls(links: readonly Link[], rules: Rules, splits: Splits): Walls {
  const lengths = new Map(links.map((link) => [link.id, link.lengthM]));
  const wanted = rules.side === 'left' || rules.side === 'right' ? rules.side : rules.drivingSide;
  const isMouth = findMouths(links, rules);
  const ask: WallAt = (linkId, chainageM) => {
    const { atStart, atEnd } = splits.get(linkId) ?? {};
    if (atStart?.outer !== undefined && chainageM < atStart.roomM) return atStart.outer;
    const fromEndM = (lengths.get(linkId) ?? 0) - chainageM;
    if (atEnd?.outer !== undefined && fromEndM < atEnd.roomM) return atEnd.outer;
    return wanted;
  };
  const at: WallAt = (linkId, chainageM) => {
    const asked = ask(linkId, chainageM);
    const across = otherWall(asked);
    return isMouth(linkId, chainageM, asked) && !isMouth(linkId, chainageM, across) ? across : asked;
  };
  return { at, isMouth };
}

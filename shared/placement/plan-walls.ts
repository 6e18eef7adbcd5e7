import type { Link } from '../network/network.ts';
import { otherWall, type Wall } from './beacon.ts';
import type { Walls } from './choose-walls.ts';
import { listMouths } from './find-mouths.ts';
import { type Interval, type KeepOut, makeKeptOut, uniteIntervals } from './keep-out.ts';
import type { Splits } from './measure-splits.ts';
import type { Rules } from './rules.ts';

/** On which wall of a link beacons can stand, and where none can. */
export type WallPlan = {
  /** Where no beacon can stand on the wall that the rules ask for. */
  listKeptOut(link: Link): readonly Interval[];
  /** Where no beacon can stand on any wall that it may cross over to; where both are wanted, not even one can. */
  listClosed(link: Link): readonly Interval[];
  /** The wall for a place; `turn` counts the places of a link, for the rules that change sides. */
  choose(link: Link, chainageM: number, turn: number): Wall;
  /** The wall that gets a beacon too, where the rules want both and it is there and free. */
  chooseSecond(link: Link, chainageM: number, wall: Wall): Wall | undefined;
};

/** Makes the plan of the walls of a complex for the rules' side and the scheme's keep-outs. */
export function planWalls(
  rules: Rules,
  { at, isMouth }: Walls,
  splits: Splits,
  keepOuts: readonly KeepOut[],
): WallPlan {
  const listKeptOut = makeKeptOut(keepOuts);
  const isFree = (link: Link, chainageM: number, wall: Wall) =>
    !listKeptOut(link, wall).some(([fromM, toM]) => chainageM > fromM && chainageM < toM);
  const listClosed = (link: Link): readonly Interval[] => {
    const [left, right] = [listKeptOut(link, 'left'), listKeptOut(link, 'right')];
    return rules.side === 'both' ? uniteIntervals([...left, ...right]) : intersect(left, right);
  };
  return {
    listClosed,
    listKeptOut(link) {
      if (rules.side === 'both') return uniteIntervals([...listClosed(link), ...listMouths(link, isMouth)]);
      if (rules.side === 'alternate') return listClosed(link);
      const parts = listParts(link, splits);
      return uniteIntervals(
        parts.flatMap(([fromM, toM]) =>
          intersect(listKeptOut(link, at(link.id, (fromM + toM) / 2)), [[fromM, toM]]),
        ),
      );
    },
    choose(link, chainageM, turn) {
      const first = at(link.id, chainageM);
      const isTurned = rules.side === 'alternate' && turn % 2 === 1;
      const wanted = isTurned && !isMouth(link.id, chainageM, otherWall(first)) ? otherWall(first) : first;
      const other = otherWall(wanted);
      const canCross = isFree(link, chainageM, other) && !isMouth(link.id, chainageM, other);
      return !isFree(link, chainageM, wanted) && canCross ? other : wanted;
    },
    chooseSecond(link, chainageM, wall) {
      const second = otherWall(wall);
      if (rules.side !== 'both' || isMouth(link.id, chainageM, second)) return undefined;
      return isFree(link, chainageM, second) ? second : undefined;
    },
  };
}

/** The stretches of a link along which the wall that the rules ask for stays the same. */
function listParts({ id, lengthM }: Link, splits: Splits): readonly Interval[] {
  const { atStart, atEnd } = splits.get(id) ?? {};
  const cuts = [atStart?.roomM ?? 0, lengthM - (atEnd?.roomM ?? 0)].filter((m) => m > 0 && m < lengthM);
  const [first, second] = cuts.sort((a, b) => a - b);
  const ends = [-1, ...(first === undefined ? [] : [first]), ...(second === undefined ? [] : [second])];
  return ends.map((fromM, i) => [fromM, ends[i + 1] ?? lengthM + 1]);
}

function intersect(one: readonly Interval[], other: readonly Interval[]): readonly Interval[] {
  return one.flatMap(([aM, bM]) =>
    other
      .map(([cM, dM]): Interval => [Math.max(aM, cM), Math.min(bM, dM)])
      .filter(([fromM, toM]) => fromM < toM),
  );
}

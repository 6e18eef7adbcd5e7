import type { Link } from '../network/network.ts';
import { otherWall, type Wall } from './beacon.ts';
import type { WallAt } from './choose-walls.ts';
import { type Interval, type KeepOut, makeKeptOut } from './keep-out.ts';
import type { Splits } from './measure-splits.ts';
import type { Rules } from './rules.ts';

/** On which wall of a link beacons can stand, and where none can. */
export type WallPlan = {
  /** Where no beacon can stand on the wall that the rules ask for. */
  listKeptOut(link: Link): readonly Interval[];
  /** Where no beacon can stand on any wall that it may cross over to. */
  listClosed(link: Link): readonly Interval[];
  /** The wall for a place; `turn` counts the places of a link, for the rules that change sides. */
  choose(link: Link, chainageM: number, turn: number): Wall;
  /** The wall that gets a beacon too, where the rules want both. */
  chooseSecond(wall: Wall): Wall | undefined;
};

/** Makes the plan of the walls of a complex for the rules' side and the scheme's keep-outs. */
export function planWalls(
  rules: Rules,
  wallAt: WallAt,
  splits: Splits,
  keepOuts: readonly KeepOut[],
): WallPlan {
  const listKeptOut = makeKeptOut(keepOuts);
  const isFree = (link: Link, chainageM: number, wall: Wall) =>
    !listKeptOut(link, wall).some(([fromM, toM]) => chainageM > fromM && chainageM < toM);
  const listClosed = (link: Link): readonly Interval[] => {
    const [left, right] = [listKeptOut(link, 'left'), listKeptOut(link, 'right')];
    return rules.side === 'both' ? unite([...left, ...right]) : intersect(left, right);
  };
  return {
    listClosed,
    listKeptOut(link) {
      if (rules.side === 'both' || rules.side === 'alternate') return listClosed(link);
      const parts = listParts(link, splits);
      return unite(
        parts.flatMap(([fromM, toM]) =>
          intersect(listKeptOut(link, wallAt(link.id, (fromM + toM) / 2)), [[fromM, toM]]),
        ),
      );
    },
    choose(link, chainageM, turn) {
      const first = wallAt(link.id, chainageM);
      const wanted = rules.side === 'alternate' && turn % 2 === 1 ? otherWall(first) : first;
      const other = otherWall(wanted);
      return !isFree(link, chainageM, wanted) && isFree(link, chainageM, other) ? other : wanted;
    },
    chooseSecond: (wall) => (rules.side === 'both' ? otherWall(wall) : undefined),
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

function unite(intervals: readonly Interval[]): readonly Interval[] {
  const united: [number, number][] = [];
  for (const [fromM, toM] of [...intervals].sort((a, b) => a[0] - b[0])) {
    const last = united.at(-1);
    if (last !== undefined && fromM <= last[1]) last[1] = Math.max(last[1], toM);
    else united.push([fromM, toM]);
  }
  return united;
}

function intersect(one: readonly Interval[], other: readonly Interval[]): readonly Interval[] {
  return one.flatMap(([aM, bM]) =>
    other
      .map(([cM, dM]): Interval => [Math.max(aM, cM), Math.min(bM, dM)])
      .filter(([fromM, toM]) => fromM < toM),
  );
}

import type { Interval } from './keep-out.ts';

/** Rounding that must not add a beacon: 58 × 40 m is 2,320 m, not a hair more. */
const SLACK = 1e-9;
/** Places nearer than this are one, metres. */
const SAME_M = 1e-6;

/**
 * Places between two fixed ones that cut the way into equal intervals of at most `spacingM`, the fixed ones left out.
 * A place that falls into a keep-out moves to its nearest free end, and the ways on both sides of it are cut anew;
 * where a keep-out is longer than the spacing a place stands at each of its ends.
 *
 * @param isBackwards where two free ends are equally near, the later one is taken: for a link that is drawn against
 * the direction that is the same however it is drawn.
 */
export function layStretch(
  fromM: number,
  toM: number,
  spacingM: number,
  keptOut: readonly Interval[],
  isBackwards = false,
): readonly number[] {
  const intervals = Math.max(1, Math.ceil((toM - fromM) / spacingM - SLACK));
  const stepM = (toM - fromM) / intervals;
  const places = Array.from({ length: intervals - 1 }, (_, i) => fromM + stepM * (i + 1));
  const moved = places.flatMap((place) => {
    const free = findFree(place, fromM, toM, keptOut, isBackwards);
    return free === undefined ? [] : [{ place, free }];
  });
  // The one that moves least is fixed first: the others may come free by it.
  const least = (isBackwards ? moved.reverse() : moved).reduce<(typeof moved)[number] | undefined>(
    (best, one) => (best !== undefined && shift(best) <= shift(one) + SAME_M ? best : one),
    undefined,
  );
  if (least === undefined) {
    return places.filter((place) => !keptOut.some(([aM, bM]) => place > aM && place < bM));
  }
  return [
    ...layStretch(fromM, least.free, spacingM, keptOut, isBackwards),
    least.free,
    ...layStretch(least.free, toM, spacingM, keptOut, isBackwards),
  ];
}

function shift({ place, free }: { readonly place: number; readonly free: number }): number {
  return Math.abs(place - free);
}

/** A place on a link of `lengthM` where it is free, else the nearest free end of the keep-out around it; undefined where none is. */
export function findFreePlace(
  place: number,
  lengthM: number,
  keptOut: readonly Interval[],
): number | undefined {
  if (!keptOut.some(([aM, bM]) => place > aM && place < bM)) return place;
  return findFree(place, 0, lengthM, keptOut, false);
}

/** The nearest free end of the keep-out around a place, inside the stretch; undefined where it is free or none is. */
function findFree(
  place: number,
  fromM: number,
  toM: number,
  keptOut: readonly Interval[],
  isBackwards: boolean,
): number | undefined {
  const around = keptOut.find(([aM, bM]) => place > aM && place < bM);
  if (around === undefined) return undefined;
  const ends = around.filter((end) => end > fromM + SAME_M && end < toM - SAME_M);
  const [first, second] = isBackwards ? [...ends].reverse() : ends;
  if (first === undefined || second === undefined) return first;
  return Math.abs(second - place) < Math.abs(first - place) - SAME_M ? second : first;
}

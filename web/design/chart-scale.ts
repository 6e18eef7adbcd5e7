import type { RouteDrive } from '../../shared/drive/drive.ts';

/** A linear scale: values to the pixels of a drawing and back. */
export type Scale = {
  readonly toPx: (value: number) => number;
  readonly toValue: (px: number) => number;
};

/** Makes the scale that puts `from` at `fromPx` and `to` at `toPx`; `from` and `to` must differ. */
export function makeScale([from, to]: Span, [fromPx, toPx]: Span): Scale {
  const pxPerUnit = (toPx - fromPx) / (to - from);
  return {
    toPx: (value) => fromPx + (value - from) * pxPerUnit,
    toValue: (px) => from + (px - fromPx) / pxPerUnit,
  };
}

/** Least and most. */
export type Span = readonly [number, number];

/** Lists the round numbers (1, 2 or 5 times a power of ten apart) from `from` to `to`, about `count` of them. */
export function listTicks([from, to]: Span, count: number): readonly number[] {
  const rough = (to - from) / count;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = power * ([1, 2, 5].find((times) => times * power >= rough) ?? 10);
  const first = Math.ceil(from / step);
  const last = Math.floor(to / step);
  return Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
}

/** The errors that a chart has to hold, metres: zero always, of both bands or of that with beacons alone. */
export function findErrorSpan({ errorM }: RouteDrive, isWithOnly: boolean): Span {
  const bands = isWithOnly ? [errorM.with] : [errorM.without, errorM.with];
  let [least, most] = [-1, 1];
  for (const { p5, p95 } of bands) {
    for (const value of p5) least = Math.min(least, value);
    for (const value of p95) most = Math.max(most, value);
  }
  const marginM = (most - least) * 0.05;
  return [least - marginM, most + marginM];
}

/** The index of the value that is nearest to `wanted`; values ascending, at least one. */
export function findNearest(ascending: readonly number[], wanted: number): number {
  let nearest = 0;
  for (let i = 1; i < ascending.length; i += 1) {
    const [best, value] = [ascending[nearest] as number, ascending[i] as number];
    if (Math.abs(value - wanted) < Math.abs(best - wanted)) nearest = i;
  }
  return nearest;
}

/** Numbers from 1 over marks at these pixels, ascending; marks too near each other to be told apart share one, as `3–5`. */
export function groupMarks(
  marksPx: readonly number[],
  closestPx = 16,
): readonly { readonly px: number; readonly label: string }[] {
  const groups: { first: number; last: number }[] = [];
  marksPx.forEach((px, i) => {
    const open = groups.at(-1);
    if (open !== undefined && px - (marksPx[open.last] as number) < closestPx) open.last = i;
    else groups.push({ first: i, last: i });
  });
  return groups.map(({ first, last }) => ({
    px: ((marksPx[first] as number) + (marksPx[last] as number)) / 2,
    label: first === last ? String(first + 1) : `${first + 1}–${last + 1}`,
  }));
}

import type { Spot } from './fit-map.ts';

type Box = readonly [left: number, top: number, right: number, bottom: number];

export type Label = {
  readonly id: string;
  readonly at: Spot;
  readonly width: number;
  readonly height: number;
};

/** Where a label goes about its mark, the preferred side first. */
const SIDES: readonly (readonly [dx: number, dy: number])[] = [
  [1, 0],
  [-1, 0],
  [0, -1],
  [0, 1],
  [1, -1],
  [-1, -1],
  [1, 1],
  [-1, 1],
];

/**
 * The middle of each label that finds room beside its mark, the first ones first: on no mark, on no other label, within
 * the drawing. Who finds none is left out.
 */
export function placeLabels(
  labels: readonly Label[],
  size: Spot,
  markRadius: number,
): ReadonlyMap<string, Spot> {
  const taken: Box[] = labels.map(({ at: [x, y] }) => [
    x - markRadius,
    y - markRadius,
    x + markRadius,
    y + markRadius,
  ]);
  const placed = new Map<string, Spot>();
  for (const { id, at, width, height } of labels) {
    for (const [dx, dy] of SIDES) {
      const reach = markRadius + 1.5;
      const spot: Spot = [at[0] + dx * (reach + width / 2), at[1] + dy * (reach + height / 2)];
      const box: Box = [spot[0] - width / 2, spot[1] - height / 2, spot[0] + width / 2, spot[1] + height / 2];
      const isInside = box[0] >= 0 && box[1] >= 0 && box[2] <= size[0] && box[3] <= size[1];
      if (!isInside || taken.some((other) => overlaps(box, other))) continue;
      taken.push(box);
      placed.set(id, spot);
      break;
    }
  }
  return placed;
}

function overlaps(a: Box, b: Box): boolean {
  return a[0] < b[2] && b[0] < a[2] && a[1] < b[3] && b[1] < a[3];
}

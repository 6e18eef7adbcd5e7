import type { Theme } from './colours.ts';

/** Colours of a programme's years, the first year's the strongest; from the last on they stay the same. */
export const PROGRAMME_COLOURS: Readonly<Record<Theme, readonly string[]>> = {
  light: ['#211a5e', '#3d3a9c', '#2f62b3', '#2374a8', '#41747f'],
  dark: ['#e2dcff', '#b9b8ff', '#8db4f5', '#78b7dc', '#8fb3bd'],
};

/** Which of the colours a year has, from 0. */
export function toneOf(year: number): number {
  return Math.min(year, PROGRAMME_COLOURS.light.length) - 1;
}

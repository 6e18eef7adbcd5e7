import { expect } from 'vitest';

/** How far a value may be from the one worked out by hand, by the unit in its name: decimal places for closeTo. */
const PLACES_BY_UNIT: readonly (readonly [unit: RegExp, places: number])[] = [
  [/M$/, 0], // within 0.5 m
  [/S$/, 1], // within 0.05 s
  [/Kmh$/, 1],
];

/** Turns expected values into matchers that allow for rounding, by the unit that each name ends with. */
export function toTolerant(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(toTolerant);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, item]) => {
      const places = PLACES_BY_UNIT.find(([unit]) => unit.test(name))?.[1];
      const isFigure = typeof item === 'number' && places !== undefined;
      return [name, isFigure ? expect.closeTo(item, places) : toTolerant(item)];
    }),
  );
}

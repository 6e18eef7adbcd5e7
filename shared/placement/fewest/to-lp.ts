import type { Question } from './question.ts';

/** Terms on one line: readers of the format may cut long lines. */
const TERMS = 20;

/** Writes a question as an integer programme in CPLEX LP text: variable `c7` is whether candidate 7 gets a beacon. */
export function toLp({ candidates, fixed, rows }: Question): string {
  const given = new Set(fixed);
  const free = candidates.map((_, i) => i).filter((i) => !given.has(i));
  return [
    'Minimize',
    ` count: ${sum(free)}`,
    'Subject To',
    ...rows.map(({ of, need }, i) => ` r${i}: ${sum(of)} >= ${need}`),
    'Binaries',
    ...cut(free.map((i) => `c${i}`)).map((names) => ` ${names.join(' ')}`),
    'End',
    '',
  ].join('\n');
}

function sum(numbers: readonly number[]): string {
  return cut(numbers.map((i) => `c${i}`))
    .map((names) => names.join(' + '))
    .join('\n  + ');
}

function cut(names: readonly string[]): readonly (readonly string[])[] {
  return Array.from({ length: Math.ceil(names.length / TERMS) }, (_, i) =>
    names.slice(i * TERMS, (i + 1) * TERMS),
  );
}

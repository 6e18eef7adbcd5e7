/** Terms on one line: readers of the LP format may cut long lines. */
const TERMS = 20;

/** Joins terms of CPLEX LP text, such as `3 x` and `y`, into a sum over as many lines as it takes. */
export function joinTerms(terms: readonly string[]): string {
  return cutLines(terms)
    .map((line) => line.join(' + '))
    .join('\n  + ');
}

/** The section that says which variables are 0 or 1, as lines. */
export function listBinaries(names: readonly string[]): readonly string[] {
  return ['Binaries', ...cutLines(names).map((line) => ` ${line.join(' ')}`)];
}

function cutLines(terms: readonly string[]): readonly (readonly string[])[] {
  return Array.from({ length: Math.ceil(terms.length / TERMS) }, (_, i) =>
    terms.slice(i * TERMS, (i + 1) * TERMS),
  );
}

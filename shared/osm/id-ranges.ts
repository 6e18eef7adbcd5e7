/** Ranges of ids, ascending and apart from each other: `starts[i]` up to, but without, `ends[i]`. */
export type IdRanges = { readonly starts: Float64Array; readonly ends: Float64Array };

/**
 * Makes the question whether an id lies in one of the ranges. The range or gap of the last answer is remembered:
 * the nodes of one way mostly lie in one.
 */
export function makeIdFinder({ starts, ends }: IdRanges): (id: number) => boolean {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  let inside = false;
  return (id) => {
    if (id >= low && id < high) return inside;
    const next = findFirstAbove(starts, id);
    const end = ends[next - 1] ?? Number.NEGATIVE_INFINITY;
    inside = id < end;
    low = inside ? (starts[next - 1] as number) : end;
    high = inside ? end : (starts[next] ?? Number.POSITIVE_INFINITY);
    return inside;
  };
}

/** The place of the first of these ascending numbers that is above `value`; their count where none is. */
export function findFirstAbove(numbers: Float64Array, value: number): number {
  let low = 0;
  let high = numbers.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((numbers[middle] as number) > value) high = middle;
    else low = middle + 1;
  }
  return low;
}

/** Whether these ascending numbers hold this one. */
export function includesSorted(numbers: Float64Array, value: number): boolean {
  return numbers[findFirstAbove(numbers, value) - 1] === value;
}

/** These numbers ascending, each once. */
export function sortUnique(numbers: Float64Array): Float64Array {
  const sorted = Float64Array.from(numbers).sort();
  let unique = 0;
  for (const value of sorted) if (unique === 0 || sorted[unique - 1] !== value) sorted[unique++] = value;
  return sorted.slice(0, unique);
}

/** Ranges of ids, ascending and apart from each other: `starts[i]` up to, but without, `ends[i]`. */
export type IdRanges = { readonly starts: Float64Array; readonly ends: Float64Array };

/**
 * Tells whether ids lie in one of the ranges. The range or gap of the last answer is remembered: the nodes of one way
 * mostly lie in one.
 */
export class IdFinder {
  private readonly ranges: IdRanges;
  private low = Number.POSITIVE_INFINITY;
  private high = Number.NEGATIVE_INFINITY;
  private inside = false;

  constructor(ranges: IdRanges) {
    this.ranges = ranges;
  }

  has(id: number): boolean {
    if (id < this.low || id >= this.high) this.seek(id);
    return this.inside;
  }

  /** Whether one of the first `count` ids lies in a range. */
  hasAny(ids: Float64Array, count: number): boolean {
    let { low, high } = this;
    // No id lies from `high` to `high`: the first one is then asked about below.
    if (this.inside) low = high;
    for (let index = 0; index < count; index += 1) {
      const id = ids[index] as number;
      // Most ids lie in the gap of the one before.
      if (id >= low && id < high) continue;
      if (this.has(id)) return true;
      low = this.low;
      high = this.high;
    }
    return false;
  }

  private seek(id: number): void {
    const { starts, ends } = this.ranges;
    const next = findFirstAbove(starts, id);
    const end = ends[next - 1] ?? Number.NEGATIVE_INFINITY;
    this.inside = id < end;
    this.low = this.inside ? (starts[next - 1] as number) : end;
    this.high = this.inside ? end : (starts[next] ?? Number.POSITIVE_INFINITY);
  }
}

/** Tells whether ascending numbers hold an id, for ids that are asked for in ascending order: one walk over both. */
export class AscendingIds {
  private readonly ids: Float64Array;
  private next = -1;
  private id = Number.NEGATIVE_INFINITY;

  constructor(ids: Float64Array) {
    this.ids = ids;
  }

  has(id: number): boolean {
    if (this.id < id) this.seek(id);
    return this.id === id;
  }

  private seek(id: number): void {
    const { ids } = this;
    if (this.next < 0) this.next = findFirstAbove(ids, id - 1);
    while (this.id < id) this.id = ids[this.next++] ?? Number.POSITIVE_INFINITY;
  }
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

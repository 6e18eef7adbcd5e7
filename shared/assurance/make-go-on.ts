import type { ArcNumber } from '../placement/driven-arcs.ts';

/** Where bores without a beacon form a mesh, the ways through it are without number: so many arcs are driven on all of them. */
const MAX_ARCS = 500;

/**
 * Makes the function that says whether a search through bores without a beacon goes on to an arc: on every way that does not
 * drive it twice (`seen`) for the first 500 arcs, from there on only where no way drove it before, so that every arc is
 * reached still. Asked once for each arc that is gone to.
 */
export function makeGoOn(): (to: ArcNumber, seen: ReadonlySet<ArcNumber>) => boolean {
  const driven = new Set<ArcNumber>();
  let count = 0;
  return (to, seen) => {
    if (seen.has(to) || (count >= MAX_ARCS && driven.has(to))) return false;
    count += 1;
    driven.add(to);
    return true;
  };
}

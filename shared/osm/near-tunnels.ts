import { findFirstAbove, type IdRanges } from './id-ranges.ts';
import { listCellsAround } from './tunnel-cells.ts';

/** Where a file's nodes are: a run of nodes in one cell starts at each id and ends before the next one. */
export type NodeRuns = { readonly ids: Float64Array; readonly cells: Int32Array };

/** The ids of all nodes that lie near one of `tunnelNodes` (see tunnel-cells.ts), as ranges. */
export function findNearTunnels(runs: NodeRuns, tunnelNodes: Float64Array): IdRanges {
  const cells = new Set<number>();
  for (const node of tunnelNodes) {
    const cell = runs.cells[findFirstAbove(runs.ids, node) - 1];
    if (cell !== undefined) cells.add(cell);
  }
  const near = listCellsAround(cells);
  const starts: number[] = [];
  const ends: number[] = [];
  let open = false;
  for (let index = 0; index < runs.ids.length; index += 1) {
    const isNear = near.has(runs.cells[index] as number);
    if (isNear === open) continue;
    (isNear ? starts : ends).push(runs.ids[index] as number);
    open = isNear;
  }
  if (open) ends.push(Number.POSITIVE_INFINITY);
  return { starts: Float64Array.from(starts), ends: Float64Array.from(ends) };
}

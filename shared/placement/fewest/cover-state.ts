import type { Question } from './question.ts';

/** A choice of candidates in the making, with what each row has of what it needs. */
export type CoverState = {
  /** By candidate: the rows that it is in. */
  readonly rowsOf: readonly (readonly number[])[];
  readonly chosen: Uint8Array;
  /** By row: how many more it needs; negative where it has more than it needs. */
  readonly lacking: Int32Array;
  count: number;
};

/** Starts with nothing chosen but what is fixed, which the rows know of already. */
export function makeCoverState({ candidates, rows }: Question): CoverState {
  const rowsOf: number[][] = candidates.map(() => []);
  rows.forEach(({ of }, row) => {
    for (const candidate of of) rowsOf[candidate]?.push(row);
  });
  return {
    rowsOf,
    chosen: new Uint8Array(candidates.length),
    lacking: Int32Array.from(rows, ({ need }) => need),
    count: 0,
  };
}

/** Chooses a candidate that is not chosen. */
export function choose(state: CoverState, candidate: number): void {
  state.chosen[candidate] = 1;
  state.count += 1;
  for (const row of state.rowsOf[candidate] ?? []) state.lacking[row] = (state.lacking[row] ?? 0) - 1;
}

/** Takes a chosen candidate back. */
export function drop(state: CoverState, candidate: number): void {
  state.chosen[candidate] = 0;
  state.count -= 1;
  for (const row of state.rowsOf[candidate] ?? []) state.lacking[row] = (state.lacking[row] ?? 0) + 1;
}

/** How many rows that lack something a candidate would help. */
export function helpOf({ rowsOf, lacking }: CoverState, candidate: number): number {
  let help = 0;
  for (const row of rowsOf[candidate] ?? []) if ((lacking[row] ?? 0) > 0) help += 1;
  return help;
}

/** Whether every row that a chosen candidate is in has enough without it. */
export function isSpare({ rowsOf, lacking }: CoverState, candidate: number): boolean {
  for (const row of rowsOf[candidate] ?? []) if ((lacking[row] ?? 0) >= 0) return false;
  return true;
}

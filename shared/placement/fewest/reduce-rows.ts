import { byText } from '../../outcome/by-text.ts';
import type { CoverageGap, Row } from './question.ts';

/** Places of one kind that are nearer to each other than this are told as one gap, metres. */
const SAME_GAP_M = 20;

/**
 * Takes out what the fixed candidates keep already, and every row that follows from another. A row that needs more than
 * there is asks for what there is, and is told as a gap. `weightOf`: beacons at a candidate, `copies` where it is free.
 */
export function reduceRows(
  rows: readonly Row[],
  fixed: ReadonlySet<number>,
  weightOf: (candidate: number) => number,
  copies: number,
): { readonly rows: readonly Row[]; readonly gaps: readonly CoverageGap[] } {
  const gaps: CoverageGap[] = [];
  const left: Row[] = [];
  for (const row of rows) {
    let given = 0;
    for (const c of row.of) if (fixed.has(c)) given += weightOf(c);
    if (given >= row.need) continue;
    const of = given === 0 ? row.of : row.of.filter((c) => !fixed.has(c));
    const need = Math.ceil((row.need - given) / copies);
    if (of.length < need) {
      gaps.push({ ...row.at, kind: row.kind, need: row.need, found: given + of.length * copies });
    }
    if (of.length > 0) left.push({ kind: row.kind, at: row.at, need: Math.min(need, of.length), of });
  }
  return { rows: dropImplied(left), gaps: uniteGaps(gaps) };
}

/** A row with all the candidates of another one and no greater need says nothing new. */
function dropImplied(rows: readonly Row[]): readonly Row[] {
  const sorted = [...rows].sort((a, b) => a.of.length - b.of.length || b.need - a.need);
  /** By candidate: the rows that are kept and begin with it. */
  const byFirst: Row[][] = [];
  /** By candidate: the last row that it was met in. */
  const metIn: number[] = [];
  return sorted.filter((row, i) => {
    for (const c of row.of) metIn[c] = i;
    const isImplied = row.of.some((c) =>
      byFirst[c]?.some((other) => other.need >= row.need && other.of.every((one) => metIn[one] === i)),
    );
    if (isImplied) return false;
    const first = row.of[0] as number;
    const known = byFirst[first];
    if (known === undefined) byFirst[first] = [row];
    else known.push(row);
    return true;
  });
}

/** The worst of each run of places. */
function uniteGaps(gaps: readonly CoverageGap[]): readonly CoverageGap[] {
  const sorted = [...gaps].sort(
    (a, b) => byText(a.kind, b.kind) || byText(a.linkId, b.linkId) || a.chainageM - b.chainageM,
  );
  const united: CoverageGap[] = [];
  let lastM = 0;
  for (const gap of sorted) {
    const last = united.at(-1);
    const isSame =
      last?.kind === gap.kind && last.linkId === gap.linkId && gap.chainageM - lastM < SAME_GAP_M;
    lastM = gap.chainageM;
    if (last === undefined || !isSame) united.push(gap);
    else if (gap.need - gap.found > last.need - last.found) united[united.length - 1] = gap;
  }
  return united;
}

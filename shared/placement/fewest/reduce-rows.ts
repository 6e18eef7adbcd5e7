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
  const left = rows.flatMap((row): Row[] => {
    const given = row.of.reduce((sum, c) => sum + (fixed.has(c) ? weightOf(c) : 0), 0);
    if (given >= row.need) return [];
    const of = row.of.filter((c) => !fixed.has(c));
    const need = Math.ceil((row.need - given) / copies);
    if (of.length >= need) return [{ ...row, need, of }];
    gaps.push({ ...row.at, kind: row.kind, need: row.need, found: given + of.length * copies });
    return of.length === 0 ? [] : [{ ...row, need: of.length, of }];
  });
  return { rows: dropImplied(left), gaps: uniteGaps(gaps) };
}

/** A row with all the candidates of another one and no greater need says nothing new. */
function dropImplied(rows: readonly Row[]): readonly Row[] {
  const sorted = [...rows].sort((a, b) => a.of.length - b.of.length || b.need - a.need);
  const byFirst = new Map<number, Row[]>();
  const marked = new Map<number, Row>();
  return sorted.filter((row) => {
    for (const c of row.of) marked.set(c, row);
    const isImplied = row.of.some((c) =>
      byFirst
        .get(c)
        ?.some((other) => other.need >= row.need && other.of.every((one) => marked.get(one) === row)),
    );
    if (isImplied) return false;
    const first = row.of[0] as number;
    const known = byFirst.get(first);
    if (known === undefined) byFirst.set(first, [row]);
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

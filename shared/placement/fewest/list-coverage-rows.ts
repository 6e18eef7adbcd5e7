import type { Link, LinkId } from '../../network/network.ts';
import { makeCoverage } from '../../radio/cover-bores.ts';
import type { Candidate, Row } from './question.ts';

/** Stretches that are shorter than this are no stretch, metres. */
const SAME_M = 1e-6;

/**
 * One row for each stretch of the driven links on which the same candidates are heard, along the bores in any direction
 * and through forks: at least `depth` of them have a beacon. The stretches end where a candidate's coverage does, so
 * what holds in the middle of each holds everywhere.
 */
export function listCoverageRows(
  links: readonly Link[],
  driven: readonly Link[],
  candidates: readonly Candidate[],
  depth: number,
): readonly Row[] {
  const cover = makeCoverage(links);
  const heard = new Map<LinkId, Edge[]>(driven.map(({ id }) => [id, []]));
  candidates.forEach((candidate, number) => {
    for (const { linkId, fromM, toM } of cover(candidate, candidate.radiusM)) {
      heard.get(linkId)?.push({ atM: fromM, number, isStart: true }, { atM: toM, number, isStart: false });
    }
  });
  return driven.flatMap((link) => listRowsOf(link, heard.get(link.id) ?? [], depth));
}

type Edge = { readonly atM: number; readonly number: number; readonly isStart: boolean };

function listRowsOf(link: Link, edges: Edge[], need: number): Row[] {
  edges.sort((a, b) => a.atM - b.atM);
  const rows: Row[] = [];
  /** Ascending. */
  let heard: readonly number[] = [];
  let fromM = 0;
  const close = (toM: number) => {
    if (toM - fromM < SAME_M) return;
    const at = { linkId: link.id, chainageM: (fromM + toM) / 2 };
    rows.push({ kind: 'coverage', at, need, of: heard });
  };
  for (const { atM, number, isStart } of edges) {
    // Ends that differ by rounding only are one.
    if (atM - fromM >= SAME_M) {
      close(atM);
      fromM = atM;
    }
    heard = isStart ? withNumber(heard, number) : heard.filter((one) => one !== number);
  }
  close(link.lengthM);
  return rows;
}

function withNumber(heard: readonly number[], number: number): readonly number[] {
  const i = heard.findIndex((one) => one >= number);
  if (i < 0) return [...heard, number];
  return heard[i] === number ? heard : [...heard.slice(0, i), number, ...heard.slice(i)];
}

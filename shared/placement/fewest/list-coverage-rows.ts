import type { Link, LinkId } from '../../network/network.ts';
import { makeCoverage } from '../../radio/cover-bores.ts';
import type { Candidate, Row } from './question.ts';

/** Stretches that are shorter than this are no stretch, metres. */
const SAME_M = 1e-6;

/**
 * One row for each stretch of the driven links on which the same candidates are heard, along the bores in any direction
 * and through forks: at least `depth` of them have a beacon. The stretches end where a candidate's coverage does, so
 * what holds in each of them holds everywhere. A stretch that hears all that a neighbour hears is left out.
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
  let hasLost = true;
  let i = 0;
  while (fromM < link.lengthM - SAME_M) {
    // Ends that differ by rounding only are one.
    for (; i < edges.length && (edges[i] as Edge).atM - fromM < SAME_M; i += 1) {
      const { number, isStart } = edges[i] as Edge;
      heard = isStart ? withNumber(heard, number) : heard.filter((one) => one !== number);
      if (!isStart) hasLost = true;
    }
    const toM = Math.min(edges[i]?.atM ?? link.lengthM, link.lengthM);
    if (hasLost && gainsAt(edges, i, link.lengthM)) {
      rows.push({ kind: 'coverage', at: { linkId: link.id, chainageM: (fromM + toM) / 2 }, need, of: heard });
    }
    hasLost = false;
    fromM = toM;
  }
  return rows;
}

/** Whether some candidate begins to be heard where the edges from number `i` on are, or the link ends there. */
function gainsAt(edges: readonly Edge[], i: number, lengthM: number): boolean {
  const atM = edges[i]?.atM ?? lengthM;
  if (atM > lengthM - SAME_M) return true;
  for (let n = i; n < edges.length && (edges[n] as Edge).atM - atM < SAME_M; n += 1) {
    if (edges[n]?.isStart) return true;
  }
  return false;
}

function withNumber(heard: readonly number[], number: number): readonly number[] {
  const i = heard.findIndex((one) => one >= number);
  if (i < 0) return [...heard, number];
  return heard[i] === number ? heard : [...heard.slice(0, i), number, ...heard.slice(i)];
}

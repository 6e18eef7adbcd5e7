import type { LineAddress } from '../alignment/line-address.ts';
import { byText } from '../outcome/by-text.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Design, Heard } from '../placement/design.ts';
import { type BoreGraph, listBefore } from './bore-graph.ts';
import { listOnBranch, type OnBranch } from './list-on-branch.ts';
import { type Branch, listSisters } from './list-sisters.ts';

/** Two beacons on sister branches that are heard at the same places. */
export type AudiblePair = {
  /** Where the branches part or join. */
  readonly osmNode: number;
  /** In the order of their ids. */
  readonly beaconIds: readonly [BeaconId, BeaconId];
  /** Where the first of them is met along its branch. */
  readonly at: LineAddress;
  /** Metres of bore along which both are heard. */
  readonly commonM: number;
};

/** Hearing that is shorter is rounding, metres. */
const SAME_M = 1e-3;

/**
 * Lists the beacons on different branches of one fork or merge that are heard at the same places, through the air that
 * the branches share. Bores that do not meet do not hear each other. A pair that meets round a ring at two forks is
 * named at the nearer one. Sorted by the ids of the beacons.
 */
export function listAudiblePairs(graph: BoreGraph, coverage: Design['coverage']): readonly AudiblePair[] {
  const heard = new Map(coverage.map((one) => [one.beaconId, one]));
  const reachM = coverage.reduce((most, { radiusM }) => Math.max(most, radiusM), 0);
  const before = listBefore(graph);
  const found = new Map<string, AudiblePair & { readonly awayM: number }>();
  for (const { osmNode, branches } of listSisters(graph, before)) {
    const [left, right] = branches.map((branch: Branch) =>
      listOnBranch(graph, before, branch, osmNode, 2 * reachM),
    ) as [OnBranch, OnBranch];
    for (const [a, b] of listPairs(left, right)) {
      const [one, other] = byText(a.beaconId, b.beaconId) <= 0 ? [a, b] : [b, a];
      const key = `${one.beaconId} ${other.beaconId}`;
      const awayM = one.awayM + other.awayM;
      if ((found.get(key)?.awayM ?? Number.POSITIVE_INFINITY) <= awayM) continue;
      const [first, second] = [heard.get(one.beaconId), heard.get(other.beaconId)];
      if (first === undefined || second === undefined) continue;
      // Where the two radii do not meet at this fork, what is heard in common lies elsewhere.
      if (first.radiusM + second.radiusM - awayM <= SAME_M) continue;
      const commonM = measureCommon(first, second);
      if (commonM <= SAME_M) continue;
      const beaconIds = [one.beaconId, other.beaconId] as const;
      found.set(key, { osmNode, beaconIds, at: one.at, commonM, awayM });
    }
  }
  return [...found.values()]
    .map(({ awayM: _, ...pair }) => pair)
    .sort((a, b) => byText(a.beaconIds[0], b.beaconIds[0]) || byText(a.beaconIds[1], b.beaconIds[1]));
}

/** One beacon of each branch; round a ring a beacon belongs to the branch by which it is nearer. */
function* listPairs(left: OnBranch, right: OnBranch) {
  const ownOf = (branch: OnBranch, other: OnBranch) =>
    [...branch.values()].filter(
      ({ beaconId, awayM }) => awayM < (other.get(beaconId)?.awayM ?? Number.POSITIVE_INFINITY),
    );
  const others = ownOf(right, left);
  for (const a of ownOf(left, right)) {
    for (const b of others) yield [a, b] as const;
  }
}

/** Both lists are sorted by link and chainage, as makeCoverage gives them. */
function measureCommon(one: Heard, other: Heard): number {
  let commonM = 0;
  for (const a of one.stretches) {
    for (const b of other.stretches) {
      if (a.linkId !== b.linkId) continue;
      commonM += Math.max(0, Math.min(a.toM, b.toM) - Math.max(a.fromM, b.fromM));
    }
  }
  return commonM;
}

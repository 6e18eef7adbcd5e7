import type { LineAddress } from '../alignment/line-address.ts';
import { byText } from '../outcome/by-text.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Design, Heard } from '../placement/design.ts';
import { type BoreGraph, listBefore } from './bore-graph.ts';
import { listOnBranch, type OnBranch } from './list-on-branch.ts';
import { listSisters } from './list-sisters.ts';

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
  const sorted = [...coverage].sort((a, b) => byText(a.beaconId, b.beaconId));
  const numbers = new Map(sorted.map(({ beaconId }, i) => [beaconId, i]));
  const reachM = coverage.reduce((most, { radiusM }) => Math.max(most, radiusM), 0);
  const before = listBefore(graph);
  const found = new Map<number, Found>();
  for (const { osmNode, branches } of listSisters(graph, before)) {
    const [left, right] = branches.map((branch) => listOnBranch(graph, before, branch, osmNode, 2 * reachM));
    const others = listOwn(right as OnBranch, left as OnBranch, numbers);
    for (const a of listOwn(left as OnBranch, right as OnBranch, numbers)) {
      for (const b of others) {
        const awayM = a.awayM + b.awayM;
        if (awayM >= 2 * reachM) break;
        const [first, second] = a.number < b.number ? [a, b] : [b, a];
        const key = first.number * sorted.length + second.number;
        if ((found.get(key)?.awayM ?? Number.POSITIVE_INFINITY) > awayM)
          found.set(key, { osmNode, first, second, awayM });
      }
    }
  }
  return [...found]
    .sort(([a], [b]) => a - b)
    .flatMap(([, { osmNode, first, second }]): AudiblePair[] => {
      const [one, other] = [sorted[first.number] as Heard, sorted[second.number] as Heard];
      const commonM = measureCommon(one, other);
      if (commonM <= SAME_M) return [];
      return [{ osmNode, beaconIds: [one.beaconId, other.beaconId], at: first.at, commonM }];
    });
}

/** Two beacons across a fork: by their numbers in the order of the ids. */
type Found = {
  readonly osmNode: number;
  readonly first: Numbered;
  readonly second: Numbered;
  readonly awayM: number;
};
type Numbered = { readonly number: number; readonly awayM: number; readonly at: LineAddress };

/**
 * The beacons of a branch, the nearest first. What stands past a place where the branches meet again belongs to neither,
 * but round a ring each keeps what stands along its own first bore.
 */
function listOwn(
  branch: OnBranch,
  sister: OnBranch,
  numbers: ReadonlyMap<BeaconId, number>,
): readonly Numbered[] {
  return [...branch.values()]
    .flatMap(({ beaconId, awayM, at, isOnFirst }): Numbered[] => {
      const number = numbers.get(beaconId);
      return number !== undefined && (isOnFirst || !sister.has(beaconId)) ? [{ number, awayM, at }] : [];
    })
    .sort((a, b) => a.awayM - b.awayM);
}

/** Both lists are sorted by link and chainage, and none of their stretches overlap. */
function measureCommon(one: Heard, other: Heard): number {
  let commonM = 0;
  let [i, k] = [0, 0];
  for (;;) {
    const [a, b] = [one.stretches[i], other.stretches[k]];
    if (a === undefined || b === undefined) return commonM;
    if (a.linkId === b.linkId) commonM += Math.max(0, Math.min(a.toM, b.toM) - Math.max(a.fromM, b.fromM));
    const isFirstBehind = a.linkId === b.linkId ? a.toM < b.toM : a.linkId < b.linkId;
    if (isFirstBehind) i += 1;
    else k += 1;
  }
}

import type { ComplexNetwork, Link } from '../network/network.ts';
import type { Splits } from './measure-splits.ts';
import type { Rules } from './rules.ts';

/** Places nearer to a node than this stand at the node, metres. */
const AT_NODE_M = 0.01;

type Branches = {
  readonly network: ComplexNetwork;
  readonly rules: Rules;
  readonly splits: Splits;
  radiusM(link: Link, chainageM: number): number;
};

/** A link as it was laid, chainages in metres. */
type Laid = {
  readonly link: Link;
  /** What stands whatever is laid: pins, and the beacons at the ends, some of them beyond. */
  readonly fixed: readonly number[];
  readonly places: readonly number[];
  readonly maxIntervalM: number;
};

/**
 * Where on a link a beacon must stand so that it confirms the branch: past a fork the first one that was laid may be too
 * far, or so near that it is heard on the sister branch or that there is no wall of its own yet. Then it goes as far as
 * the rules allow.
 */
export function confirmBranches(
  { network, rules, splits, radiusM }: Branches,
  { link, fixed, places, maxIntervalM }: Laid,
): readonly number[] {
  const farM = rules.branchConfirmationM;
  if (link.lengthM <= farM + AT_NODE_M) return [];
  const { atStart, atEnd } = splits.get(link.id) ?? {};
  const ends = [
    { node: link.fromNode, roomM: atStart?.roomM ?? 0, isDriven: true, turn: (m: number) => m },
    {
      node: link.toNode,
      roomM: atEnd?.roomM ?? 0,
      isDriven: link.direction !== 'forward',
      turn: (m: number) => link.lengthM - m,
    },
  ];
  return ends.flatMap(({ node, roomM, isDriven, turn }) => {
    if (!isDriven || !isBranch(network, link, node)) return [];
    const beyond = (list: readonly number[]) => list.map(turn).filter((m) => m > AT_NODE_M);
    const firstFixedM = Math.min(link.lengthM, ...beyond(fixed));
    if (firstFixedM <= farM) return [];
    const lastM = Math.max(-maxIntervalM, ...fixed.map(turn).filter((m) => m <= AT_NODE_M));
    const firstM = Math.min(firstFixedM, ...beyond(places));
    const wantedM = Math.min(farM, lastM + maxIntervalM);
    const tooNearM = Math.max(roomM, radiusM(link, turn(firstM)) - rules.forkOverlapM);
    const isBad = firstM > farM + AT_NODE_M || (firstM < tooNearM && firstM < wantedM - AT_NODE_M);
    return isBad && wantedM > AT_NODE_M ? [turn(wantedM)] : [];
  });
}

function isBranch({ complex }: ComplexNetwork, link: Link, node: number): boolean {
  return complex.diverges.some(
    ({ osmNode, branches }) => osmNode === node && branches.some(({ linkId }) => linkId === link.id),
  );
}

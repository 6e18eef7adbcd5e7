import type { Complex, Decision } from '../../shared/network/network.ts';

/**
 * The decision points of a tunnel as a driver meets them: those underground by their distance from the last satellite
 * fix, then those in the open air after a portal by theirs; of one distance the lower node first.
 */
export function listDecisionsInOrder({
  diverges,
  decisionsAfterPortal,
}: Pick<Complex, 'diverges' | 'decisionsAfterPortal'>): readonly Decision[] {
  return [...inOrder(diverges), ...inOrder(decisionsAfterPortal)];
}

function inOrder(decisions: readonly Decision[]): readonly Decision[] {
  return [...decisions].sort((a, b) => a.distanceFromFixM - b.distanceFromFixM || a.osmNode - b.osmNode);
}

import type { Link } from '../../network/network.ts';
import type { DrivenArcs } from '../driven-arcs.ts';
import { endBeaconId } from '../plan-ends.ts';
import type { Rules } from '../rules.ts';
import type { Candidate, Question } from './question.ts';

export type Fixed = Pick<Question, 'fixed' | 'portals'>;

/**
 * Lists the candidates that have a beacon anyhow: the pins, and for each portal the one that is nearest to
 * `rules.portalOffsetM` inside, unless a pin stands there or the portal's own beacon was moved.
 */
export function listFixed(driven: DrivenArcs, candidates: readonly Candidate[], rules: Rules): Fixed {
  const pins = candidates.flatMap(({ pin }, i) => (pin === undefined ? [] : [i]));
  const ends = new Map<number, { readonly link: Link; readonly atStart: boolean }[]>();
  for (const link of driven.links) {
    for (const [node, atStart] of [[link.fromNode, true] as const, [link.toNode, false] as const]) {
      if (driven.open.has(node)) ends.set(node, [...(ends.get(node) ?? []), { link, atStart }]);
    }
  }
  const places = candidates.map((candidate, i) => ({ i, candidate }));
  const portals = [...ends].flatMap(([node, at]) => {
    const own = new Set(at.map(({ link }) => link.id));
    const here = places.filter(({ candidate }) => own.has(candidate.linkId) || candidate.node === node);
    const candidate = findPortal(here, node, at, rules);
    return candidate === undefined || candidates[candidate]?.pin !== undefined ? [] : [{ candidate, node }];
  });
  const fixed = [...new Set([...pins, ...portals.map(({ candidate }) => candidate)])].sort((a, b) => a - b);
  return { fixed, portals };
}

function findPortal(
  candidates: readonly { readonly i: number; readonly candidate: Candidate }[],
  node: number,
  ends: readonly { readonly link: Link; readonly atStart: boolean }[],
  rules: Rules,
): number | undefined {
  const [first] = ends;
  const offsetM =
    first !== undefined && ends.length === 1 ? Math.min(rules.portalOffsetM, first.link.lengthM / 2) : 0;
  const near = candidates.flatMap(({ i, candidate }) => {
    const insideM = ends
      .map(({ link, atStart }) => insideOf(candidate, node, link, atStart))
      .reduce((least, one) => Math.min(least, one), Number.POSITIVE_INFINITY);
    const awayM = Math.abs(insideM - offsetM);
    return awayM === Number.POSITIVE_INFINITY ? [] : [{ i, candidate, awayM }];
  });
  const isServing = ({ candidate: { pin }, awayM }: (typeof near)[number]) =>
    pin !== undefined &&
    (awayM <= rules.portalToleranceM || (pin.id === endBeaconId(node) && awayM <= rules.spacingM));
  const best = near.find(isServing) ?? near.reduce<(typeof near)[number] | undefined>(nearer, undefined);
  return best?.i;
}

function nearer<T extends { readonly awayM: number }>(best: T | undefined, one: T): T {
  return best !== undefined && best.awayM <= one.awayM ? best : one;
}

/** How far inside a portal a candidate stands, metres; infinite where it stands elsewhere. */
function insideOf(
  { node: own, linkId, chainageM }: Candidate,
  node: number,
  link: Link,
  atStart: boolean,
): number {
  if (own === node) return 0;
  if (own !== undefined || linkId !== link.id) return Number.POSITIVE_INFINITY;
  return atStart ? chainageM : link.lengthM - chainageM;
}

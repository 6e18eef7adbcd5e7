import type { LineAddress } from '../alignment/line-address.ts';
import { makeRuler } from '../alignment/make-ruler.ts';
import type { LinkPiece } from './match-links.ts';
import type { Link, LinkId } from './network.ts';

/** How a place on a link was found again in another state of the map. */
export type Carried = {
  readonly to: LineAddress;
  /** `place-instead`: its link is too short now for its chainage. */
  readonly kept: 'chainage' | 'place' | 'place-instead';
};

export type CarryAddress = (from: LineAddress, anchor: 'chainage' | 'position') => Carried | undefined;

/** A place in a gap between two pieces belongs to the nearer one up to this, metres. */
const GAP_M = 1;

/**
 * Makes the function that finds a place on a link again. By `chainage` it keeps its distance from the link's start
 * (where the link was cut or joined, from the start of the part that it is on); by `position` it goes to the nearest
 * place on the line that its part became. Undefined where that part of the link is gone.
 */
export function makeCarryAddress(
  before: readonly Link[],
  after: readonly Link[],
  pieces: readonly LinkPiece[],
): CarryAddress {
  const was = new Map(before.map((link) => [link.id, link]));
  const is = new Map(after.map((link) => [link.id, link]));
  const from = groupBy(pieces, (piece) => piece.beforeId);
  const to = groupBy(pieces, (piece) => piece.afterId);
  return ({ linkId, chainageM }, anchor) => {
    const piece = findPiece(from.get(linkId) ?? [], chainageM);
    const [link, other] = [was.get(linkId), piece && is.get(piece.afterId)];
    if (piece === undefined || link === undefined || other === undefined) return undefined;
    if (anchor === 'chainage') {
      const isWhole =
        (from.get(linkId) ?? []).every((one) => one.afterId === other.id) &&
        (to.get(other.id) ?? []).every((one) => one.beforeId === linkId);
      const isReversed = piece.atToM < piece.atFromM;
      const alongM = isReversed ? piece.fromM - chainageM : chainageM - piece.fromM;
      const atM = isWhole && !isReversed ? chainageM : piece.atFromM + alongM;
      const fits = atM >= 0 && atM <= other.lengthM;
      if (fits) return { to: { linkId: other.id, chainageM: atM }, kept: 'chainage' };
    }
    const at = makeRuler(link.line).pointAt(chainageM);
    if (!at.ok) return undefined;
    const place = { linkId: other.id, chainageM: makeRuler(other.line).locate(at.value).chainageM };
    return { to: place, kept: anchor === 'position' ? 'place' : 'place-instead' };
  };
}

function findPiece(pieces: readonly LinkPiece[], chainageM: number): LinkPiece | undefined {
  const away = (piece: LinkPiece) => Math.max(piece.fromM - chainageM, chainageM - piece.toM, 0);
  const nearest = [...pieces].sort((a, b) => away(a) - away(b))[0];
  return nearest !== undefined && away(nearest) <= GAP_M ? nearest : undefined;
}

function groupBy(
  pieces: readonly LinkPiece[],
  of: (piece: LinkPiece) => LinkId,
): ReadonlyMap<LinkId, readonly LinkPiece[]> {
  const groups = new Map<LinkId, LinkPiece[]>();
  for (const piece of pieces) groups.set(of(piece), [...(groups.get(of(piece)) ?? []), piece]);
  return groups;
}

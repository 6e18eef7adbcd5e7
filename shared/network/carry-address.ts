import type { LineAddress } from '../alignment/line-address.ts';
import { makeRuler } from '../alignment/make-ruler.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { groupPieces } from './group-pieces.ts';
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

/** Pieces of a line that runs on may overlap by this where it was drawn anew, metres. */
const STEP_BACK_M = 10;
/** How far along the line a place is looked for around where it should be, metres; more where the length changed. */
const AROUND_M = 40;

/**
 * Makes the function that finds a place on a link again. By `chainage` it keeps its distance from the link's start,
 * or where the link was cut, joined or turned round, from the start of the part that it is on; by `position` it goes
 * to the nearest place on the line that its part became. Undefined where that part of the link is gone.
 */
export function makeCarryAddress(
  before: readonly Link[],
  after: readonly Link[],
  pieces: readonly LinkPiece[],
): CarryAddress {
  const was = new Map(before.map((link) => [link.id, link]));
  const is = new Map(after.map((link) => [link.id, link]));
  const from = groupPieces(pieces, (piece) => piece.beforeId);
  const to = groupPieces(pieces, (piece) => piece.afterId);
  return ({ linkId, chainageM }, anchor) => {
    const link = was.get(linkId);
    const own = from.get(linkId) ?? [];
    const heir = findHeir(link, own, to, is);
    if (anchor === 'chainage' && heir !== undefined && chainageM <= heir.lengthM) {
      return { to: { linkId: heir.id, chainageM }, kept: 'chainage' };
    }
    const piece = findPiece(own, chainageM);
    const other = piece && is.get(piece.afterId);
    if (piece === undefined || link === undefined || other === undefined) return undefined;
    if (anchor === 'chainage' && heir === undefined) {
      const [lowM, highM] = [piece.atFromM, piece.atToM].sort((a, b) => a - b) as [number, number];
      const alongM = chainageM - piece.fromM;
      const atM = piece.atToM < piece.atFromM ? piece.atFromM - alongM : piece.atFromM + alongM;
      if (atM >= lowM && atM <= highM) return { to: { linkId: other.id, chainageM: atM }, kept: 'chainage' };
    }
    const at = makeRuler(link.line).pointAt(chainageM);
    if (!at.ok) return undefined;
    const place = { linkId: other.id, chainageM: locateOn(other, piece, chainageM, at.value) };
    return { to: place, kept: anchor === 'position' ? 'place' : 'place-instead' };
  };
}

/**
 * The link that a link became as a whole, so that a chainage on it means the same: no other link has a part of it,
 * nor it of another, and it runs on in its direction. A ring has no start that is sure to stay.
 */
function findHeir(
  link: Link | undefined,
  own: readonly LinkPiece[],
  to: ReadonlyMap<LinkId, readonly LinkPiece[]>,
  is: ReadonlyMap<LinkId, Link>,
): Link | undefined {
  const [first] = own;
  if (first === undefined || link === undefined || link.fromNode === link.toNode) return undefined;
  const isOne = own.every((piece) => piece.afterId === first.afterId);
  const isAlone = (to.get(first.afterId) ?? []).every((piece) => piece.beforeId === link.id);
  const runsOn = own.every(
    (piece, i) => piece.atToM > piece.atFromM && piece.atFromM >= (own[i - 1]?.atToM ?? 0) - STEP_BACK_M,
  );
  return isOne && isAlone && runsOn ? is.get(first.afterId) : undefined;
}

/**
 * The nearest place on a link to a position, not far from where a piece has it by its share of the length: a spiral
 * comes by again and again.
 */
function locateOn(other: Link, piece: LinkPiece, chainageM: number, at: LonLat): number {
  const ruler = makeRuler(other.line);
  const [lengthM, atLengthM] = [piece.toM - piece.fromM, piece.atToM - piece.atFromM];
  const atM = piece.atFromM + ((chainageM - piece.fromM) / lengthM) * atLengthM;
  const aroundM = AROUND_M + Math.abs(Math.abs(atLengthM) - lengthM);
  const lowM = Math.min(ruler.lengthM, Math.max(0, atM - aroundM));
  const highM = Math.min(ruler.lengthM, Math.max(0, atM + aroundM));
  const part = ruler.slice(lowM, highM);
  if (!part.ok) throw new Error(`a piece runs past the end of link ${other.id}`);
  return Math.min(other.lengthM, lowM + makeRuler(part.value).locate(at).chainageM);
}

function findPiece(pieces: readonly LinkPiece[], chainageM: number): LinkPiece | undefined {
  const away = (piece: LinkPiece) => Math.max(piece.fromM - chainageM, chainageM - piece.toM, 0);
  const nearest = [...pieces].sort((a, b) => away(a) - away(b))[0];
  return nearest !== undefined && away(nearest) <= GAP_M ? nearest : undefined;
}

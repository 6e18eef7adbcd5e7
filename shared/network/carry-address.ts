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
  /** Its link runs the other way there: what was the left wall is the right one. */
  readonly isTurned: boolean;
};

/** A part of a stretch of a link, found again in another state of the map; `fromM` is the lower chainage. */
export type CarriedStretch = {
  readonly linkId: LinkId;
  readonly fromM: number;
  readonly toM: number;
  readonly isTurned: boolean;
  /** How much of the old stretch it is, metres. */
  readonly ofM: number;
};

export type CarryStretch = (linkId: LinkId, fromM: number, toM: number) => readonly CarriedStretch[];

export type CarryAddress = (from: LineAddress, anchor: 'chainage' | 'position') => Carried | undefined;

/** A place in a gap between two pieces belongs to the nearer one up to this, metres. */
const GAP_M = 1;
/** Below this two lengths are the same, metres. */
const SAME_M = 0.01;

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
      return { to: { linkId: heir.id, chainageM }, kept: 'chainage', isTurned: false };
    }
    const piece = findPiece(own, chainageM);
    const other = piece && is.get(piece.afterId);
    if (piece === undefined || link === undefined || other === undefined) return undefined;
    const isTurned = isTurnedRound(piece);
    if (anchor === 'chainage' && heir === undefined) {
      const [lowM, highM] = rangeOf(piece);
      const alongM = chainageM - piece.fromM;
      const atM = isTurned ? piece.atFromM - alongM : piece.atFromM + alongM;
      if (atM >= lowM && atM <= highM) {
        return { to: { linkId: other.id, chainageM: atM }, kept: 'chainage', isTurned };
      }
    }
    const at = makeRuler(link.line).pointAt(chainageM);
    if (!at.ok) return undefined;
    const place = { linkId: other.id, chainageM: locateOn(other, piece, chainageM, at.value) };
    return { to: place, kept: anchor === 'position' ? 'place' : 'place-instead', isTurned };
  };
}

/**
 * Makes the function that finds a stretch of a link again, by its place: in several parts where the link was cut, in
 * the order of the stretch. What lies on a part of the link that is gone is in none of them.
 */
export function makeCarryStretch(
  before: readonly Link[],
  after: readonly Link[],
  pieces: readonly LinkPiece[],
): CarryStretch {
  const was = new Map(before.map((link) => [link.id, link]));
  const is = new Map(after.map((link) => [link.id, link]));
  const piecesOf = groupPieces(pieces, (piece) => piece.beforeId);
  return (linkId, fromM, toM) => {
    const link = was.get(linkId);
    if (link === undefined) return [];
    const parts = (piecesOf.get(linkId) ?? []).flatMap((piece): CarriedStretch[] => {
      const other = is.get(piece.afterId);
      const [startM, endM] = [Math.max(fromM, piece.fromM), Math.min(toM, piece.toM)];
      if (other === undefined || !(endM > startM)) return [];
      const ends = [startM, endM].map((chainageM) => carryEnd(link, other, piece, chainageM));
      const isTurned = isTurnedRound(piece);
      return [
        { linkId: other.id, fromM: Math.min(...ends), toM: Math.max(...ends), isTurned, ofM: endM - startM },
      ];
    });
    return joinParts(parts);
  };
}

/** Where an end of a stretch is, to the millimetre, on the part of the link that a piece leads to. */
function carryEnd(link: Link, other: Link, piece: LinkPiece, chainageM: number): number {
  const [lowM, highM] = rangeOf(piece);
  const isAsLong = Math.abs(highM - lowM - (piece.toM - piece.fromM)) < SAME_M;
  const alongM = chainageM - piece.fromM;
  const at = makeRuler(link.line).pointAt(Math.min(chainageM, link.lengthM));
  if (!at.ok) throw new Error(`a piece runs past the end of link ${link.id}`);
  const placeM = isAsLong
    ? piece.atFromM + (isTurnedRound(piece) ? -alongM : alongM)
    : locateOn(other, piece, chainageM, at.value);
  const withinM = Math.min(highM, Math.max(lowM, placeM));
  return Math.min(other.lengthM, Math.round(withinM * 1000) / 1000);
}

/** Parts that go on from each other on one link are one. */
function joinParts(parts: readonly CarriedStretch[]): readonly CarriedStretch[] {
  const joined: CarriedStretch[] = [];
  for (const part of parts) {
    const last = joined.at(-1);
    const isOn = last !== undefined && last.linkId === part.linkId && last.isTurned === part.isTurned;
    const gapM = Math.max(part.fromM, last?.fromM ?? 0) - Math.min(part.toM, last?.toM ?? 0);
    if (isOn && gapM <= GAP_M) {
      const [fromM, toM] = [Math.min(last.fromM, part.fromM), Math.max(last.toM, part.toM)];
      joined[joined.length - 1] = { ...part, fromM, toM, ofM: last.ofM + part.ofM };
    } else joined.push(part);
  }
  // What only touches a piece of the link does not lie on it.
  return joined.filter(({ fromM, toM }) => toM - fromM >= SAME_M);
}

function isTurnedRound(piece: LinkPiece): boolean {
  return piece.atToM < piece.atFromM;
}

function rangeOf({ atFromM, atToM }: LinkPiece): readonly [lowM: number, highM: number] {
  return atFromM < atToM ? [atFromM, atToM] : [atToM, atFromM];
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

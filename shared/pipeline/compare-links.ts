import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import { roundTo, toPosition } from '../export/make-collection.ts';
import { groupPieces } from '../network/group-pieces.ts';
import { indexComplexes } from '../network/keep-identity.ts';
import type { LinkPiece } from '../network/match-links.ts';
import type { ComplexId, Link, LinkId, TunnelNetwork } from '../network/network.ts';
import type { Comparison } from '../wire/comparison.ts';

type LinkChange = Comparison['links'][number];

/** Below this a line or a length has not changed, metres: the seven decimals of the data say no more. */
const SAME_M = 0.02;
/** A shorter part that two links have in common comes from lines that run together at a fork. Project default. */
const PART_M = 5;

/** What became of each link that is not as it was, sorted by id. */
export function compareLinks(
  before: TunnelNetwork,
  after: TunnelNetwork,
  pieces: readonly LinkPiece[],
): readonly LinkChange[] {
  const [was, is] = [indexLinks(before), indexLinks(after)];
  const context: Context = {
    was,
    is,
    complexOf: [indexComplexes(before), indexComplexes(after)],
    into: listOthers(pieces, (piece) => [piece.beforeId, piece.afterId]),
    from: listOthers(pieces, (piece) => [piece.afterId, piece.beforeId]),
    piecesOf: groupPieces(pieces, (piece) => piece.beforeId),
  };
  const ids = [...new Set([...was.keys(), ...is.keys()])].sort();
  return ids.map((id) => describe(id, context)).filter((change) => change !== undefined);
}

type Index = ReadonlyMap<LinkId, Link>;
type Others = ReadonlyMap<LinkId, readonly LinkId[]>;
type Context = {
  readonly was: Index;
  readonly is: Index;
  readonly complexOf: readonly [ReadonlyMap<LinkId, ComplexId>, ReadonlyMap<LinkId, ComplexId>];
  readonly into: Others;
  readonly from: Others;
  readonly piecesOf: ReadonlyMap<LinkId, readonly LinkPiece[]>;
};

function indexLinks(network: TunnelNetwork): Index {
  return new Map(network.links.map((link) => [link.id, link]));
}

/** Other links that a link has a part in common with, told from noise at the forks by its length. */
function listOthers(
  pieces: readonly LinkPiece[],
  of: (piece: LinkPiece) => readonly [LinkId, LinkId],
): Others {
  const common = new Map<LinkId, Map<LinkId, number>>();
  for (const piece of pieces) {
    const [id, other] = of(piece);
    if (other === id) continue;
    const lengths = common.get(id) ?? new Map<LinkId, number>();
    lengths.set(other, (lengths.get(other) ?? 0) + piece.toM - piece.fromM);
    common.set(id, lengths);
  }
  return new Map(
    [...common].map(([id, lengths]) => [
      id,
      [...lengths]
        .filter(([, lengthM]) => lengthM >= PART_M)
        .map(([other]) => other)
        .sort(),
    ]),
  );
}

function describe(id: LinkId, context: Context): LinkChange | undefined {
  const [before, after] = [context.was.get(id), context.is.get(id)];
  const link = (after ?? before) as Link;
  const complexId = context.complexOf[after === undefined ? 0 : 1].get(id) ?? '';
  const [into, from] = [context.into.get(id) ?? [], context.from.get(id) ?? []];
  const shiftM = before === undefined ? undefined : greatestShiftM(before, context);
  const change = nameChange(before, after, into, from, shiftM);
  if (change === undefined) return undefined;
  return {
    id,
    complexId,
    change,
    others: [...(change === 'joined' || change === 'appeared' ? from : into)],
    osmWays: [...new Set(link.stretches.map((stretch) => stretch.wayId))].sort((a, b) => a - b),
    ...(before === undefined
      ? {}
      : { lengthBeforeM: roundTo(before.lengthM, 3), lineBefore: before.line.map(toPosition) }),
    ...(after === undefined
      ? {}
      : { lengthAfterM: roundTo(after.lengthM, 3), lineAfter: after.line.map(toPosition) }),
    ...(shiftM === undefined || after === undefined ? {} : { greatestShiftM: roundTo(shiftM, 2) }),
  };
}

function nameChange(
  before: Link | undefined,
  after: Link | undefined,
  into: readonly LinkId[],
  from: readonly LinkId[],
  shiftM: number | undefined,
): LinkChange['change'] | undefined {
  if (before === undefined) return 'appeared';
  if (after === undefined) return 'vanished';
  if (into.length > 0) return 'split';
  if (from.length > 0) return 'joined';
  const isMoved = (shiftM ?? 0) > SAME_M || Math.abs(before.lengthM - after.lengthM) > SAME_M;
  return isMoved ? 'moved' : undefined;
}

/** How far apart the old and the new line are at most, measured at the vertices of both, where both run. */
function greatestShiftM(link: Link, { piecesOf, is }: Context): number {
  const ruler = makeRuler(link.line);
  const shifts = (piecesOf.get(link.id) ?? []).flatMap((piece) => {
    const other = is.get(piece.afterId);
    if (other === undefined) return [];
    const otherRuler = makeRuler(other.line);
    const [atLowM, atHighM] = [piece.atFromM, piece.atToM].sort((a, b) => a - b) as [number, number];
    return [
      ...listDistances(ruler, piece.fromM, piece.toM, otherRuler),
      ...listDistances(otherRuler, atLowM, atHighM, ruler),
    ];
  });
  return Math.max(0, ...shifts);
}

function listDistances(ruler: Ruler, fromM: number, toM: number, other: Ruler): readonly number[] {
  const part = ruler.slice(fromM, toM);
  if (!part.ok) throw new Error('a piece of a link runs past its end');
  return part.value.map((at) => other.locate(at).distanceM);
}

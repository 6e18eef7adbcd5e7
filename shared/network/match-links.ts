import { isBeyond } from '../alignment/is-beyond.ts';
import type { Ruler } from '../alignment/make-ruler.ts';
import { boundsOf } from '../geodesy/bounds-of.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { makeBoxIndex } from '../geodesy/make-box-index.ts';
import { byText } from '../outcome/by-text.ts';
import { type LinkRulers, makeLinkRulers } from './link-rulers.ts';
import { makeNodeMatch } from './match-nodes.ts';
import type { Link, LinkId } from './network.ts';

/**
 * A part of a link that is found again, on the same or another link, in another state of the map: chainage `fromM`
 * to `toM` there runs from `atFromM` to `atToM` here, which is the lower one where the direction was turned round.
 */
export type LinkPiece = {
  readonly beforeId: LinkId;
  readonly fromM: number;
  readonly toM: number;
  readonly afterId: LinkId;
  readonly atFromM: number;
  readonly atToM: number;
};

/** How far a bore that was drawn anew, with nodes of its own, may lie from where it lay, metres. Project default. */
const NEAR_M = 30;
/** How far its direction may differ, degrees. Project default. */
const TURN_DEG = 45;
const STEP_M = 5;
/** What a link of another layer or class counts as farther away: bores lie above each other. Project default, metres. */
const OTHER_LAYER_M = 10;
const OTHER_CLASS_M = 5;
/** Pieces that meet within this are one. */
const JOIN_M = 1e-6;
/** A place this far past the end of a link is not on it, metres. */
const BEYOND_M = 1;

/**
 * Finds the links of one state of the map in a later one: by the OSM nodes they share, which outlive the splitting
 * of a way and the moving of a bend; where the nodes are others, by place and direction, on what no other link was
 * found on. What is found nowhere is in no piece. Sorted by `beforeId` and `fromM`.
 */
export function matchLinks(before: readonly Link[], after: readonly Link[]): readonly LinkPiece[] {
  const sorted = [...before].sort((a, b) => (a.id < b.id ? -1 : 1));
  const rulers = makeLinkRulers();
  const byNodes = makeNodeMatch(after, rulers);
  const claims = makeClaims();
  const found: LinkPiece[] = [];
  const missing: Segment[] = [];
  for (const link of sorted) {
    const { ruler } = rulers(link);
    for (let i = 0; i + 1 < link.nodes.length; i += 1) {
      const [fromM, toM] = [ruler.vertexM[i] as number, ruler.vertexM[i + 1] as number];
      if (!(toM > fromM)) continue;
      const place = byNodes(link, i, toM - fromM);
      if (place === undefined) missing.push({ link, ruler, fromM, toM });
      else {
        const piece = { beforeId: link.id, fromM, toM, ...place };
        claims.take(piece);
        found.push(piece);
      }
    }
  }
  return joinPieces([...found, ...matchByPlace(missing, after, claims, rulers)]);
}

/** A part of an old link, between two of its nodes, that its nodes do not lead to. */
type Segment = {
  readonly link: Link;
  readonly ruler: Ruler;
  readonly fromM: number;
  readonly toM: number;
};

/** Which old link each stretch of STEP_M of a new link was found for: two bores never become one place. */
function makeClaims() {
  const owners = new Map<LinkId, Map<number, LinkId>>();
  const cellsOf = ({ atFromM, atToM }: LinkPiece) => {
    // Only cells that the greater part of is covered: neighbours meet within one.
    const [first, last] = [Math.min(atFromM, atToM), Math.max(atFromM, atToM)].map((atM) =>
      Math.round(atM / STEP_M),
    ) as [number, number];
    return Array.from({ length: last - first }, (_, i) => first + i);
  };
  return {
    take(piece: LinkPiece): void {
      const cells = owners.get(piece.afterId) ?? new Map<number, LinkId>();
      for (const cell of cellsOf(piece)) cells.set(cell, piece.beforeId);
      owners.set(piece.afterId, cells);
    },
    isFree(piece: LinkPiece): boolean {
      const cells = owners.get(piece.afterId);
      const middle = Math.floor((piece.atFromM + piece.atToM) / 2 / STEP_M);
      const owner = cells?.get(middle);
      return owner === undefined || owner === piece.beforeId;
    },
  };
}

type Rated = { readonly piece: LinkPiece; readonly farM: number };

/** Where segments lie: step by step the nearest free link that runs the same way, the surest steps first. */
function matchByPlace(
  missing: readonly Segment[],
  after: readonly Link[],
  claims: ReturnType<typeof makeClaims>,
  rulers: LinkRulers,
): readonly LinkPiece[] {
  if (missing.length === 0) return [];
  const findNear = makeBoxIndex(after.map(({ line }) => boundsOf([line])));
  const listRated = (segment: Segment, middleM: number, stepM: number): readonly Rated[] => {
    const at = segment.ruler.pointAt(middleM);
    if (!at.ok) throw new Error('a sample outside its link');
    const [lon, lat] = at.value;
    return findNear([lon, lat, lon, lat], NEAR_M)
      .map((i) => after[i] as Link)
      .flatMap((other) => rate(segment, at.value, middleM, stepM, other, rulers(other).ruler) ?? [])
      .sort((a, b) => a.farM - b.farM || byText(a.piece.afterId, b.piece.afterId));
  };
  const steps = missing.flatMap((segment) => {
    const count = Math.max(1, Math.ceil((segment.toM - segment.fromM) / STEP_M));
    const stepM = (segment.toM - segment.fromM) / count;
    return Array.from({ length: count }, (_, k) =>
      listRated(segment, segment.fromM + stepM * (k + 0.5), stepM),
    );
  });
  const near = steps.filter((candidates) => candidates.length > 0) as [Rated, ...Rated[]][];
  near.sort(
    ([a], [b]) =>
      a.farM - b.farM || byText(a.piece.beforeId, b.piece.beforeId) || a.piece.fromM - b.piece.fromM,
  );
  return near.flatMap((candidates) => {
    const chosen = candidates.find(({ piece }) => claims.isFree(piece));
    if (chosen === undefined) return [];
    claims.take(chosen.piece);
    return [chosen.piece];
  });
}

/** How well a step of a segment fits to a link, as how far away it is; undefined where it does not. */
function rate(
  { link, ruler }: Segment,
  at: LonLat,
  middleM: number,
  stepM: number,
  other: Link,
  otherRuler: Ruler,
): Rated | undefined {
  const bearing = ruler.bearingAt(middleM);
  const { chainageM: atM, distanceM } = otherRuler.locate(at);
  const otherBearing = otherRuler.bearingAt(atM);
  if (!bearing.ok || !otherBearing.ok) throw new Error('a place outside its link');
  const turnDeg = Math.abs(((otherBearing.value - bearing.value + 540) % 360) - 180);
  const isReversed = turnDeg > 90;
  // Two one-way bores of opposite direction are twins, not one bore.
  if (isReversed && link.direction === 'forward' && other.direction === 'forward') return undefined;
  if (distanceM > NEAR_M || (isReversed ? 180 - turnDeg : turnDeg) > TURN_DEG) return undefined;
  if (isBeyond(otherRuler, atM, at, BEYOND_M)) return undefined;
  const farM =
    distanceM +
    (link.layer === other.layer ? 0 : OTHER_LAYER_M) +
    (link.roadClass === other.roadClass ? 0 : OTHER_CLASS_M);
  const halfM = isReversed ? -stepM / 2 : stepM / 2;
  const clamp = (placeM: number) => Math.min(otherRuler.lengthM, Math.max(0, placeM));
  const piece: LinkPiece = {
    beforeId: link.id,
    fromM: middleM - stepM / 2,
    toM: middleM + stepM / 2,
    afterId: other.id,
    atFromM: clamp(atM - halfM),
    atToM: clamp(atM + halfM),
  };
  return { piece, farM };
}

/** Pieces that go on from each other on one link become one. */
function joinPieces(pieces: readonly LinkPiece[]): LinkPiece[] {
  const sorted = [...pieces].sort((a, b) => byText(a.beforeId, b.beforeId) || a.fromM - b.fromM);
  const joined: LinkPiece[] = [];
  for (const piece of sorted) {
    const last = joined.at(-1);
    if (last !== undefined && goesOn(last, piece)) {
      joined[joined.length - 1] = { ...last, toM: piece.toM, atToM: piece.atToM };
    } else joined.push(piece);
  }
  return joined;
}

function goesOn(last: LinkPiece, next: LinkPiece): boolean {
  if (last.beforeId !== next.beforeId || last.afterId !== next.afterId) return false;
  if (next.fromM - last.toM > JOIN_M) return false;
  const [direction, nextDirection] = [last.atToM - last.atFromM, next.atToM - next.atFromM].map(Math.sign);
  if (direction !== nextDirection && direction !== 0 && nextDirection !== 0) return false;
  // Samples around a bend overlap or leave small gaps on the other line.
  return Math.abs(next.atFromM - last.atToM) <= 2 * STEP_M;
}

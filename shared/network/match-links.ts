import Flatbush from 'flatbush';
import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import { localDelta } from '../geodesy/segment.ts';
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
 * of a way and the moving of a bend; where the nodes are others, by place and direction. What is found nowhere is in
 * no piece. Sorted by `beforeId` and `fromM`.
 */
export function matchLinks(before: readonly Link[], after: readonly Link[]): readonly LinkPiece[] {
  const byNodes = makeNodeMatch(after);
  const byPlace = makePlaceMatch(after);
  const sorted = [...before].sort((a, b) => (a.id < b.id ? -1 : 1));
  return sorted.flatMap((link) => {
    const ruler = makeRuler(link.line);
    const pieces = link.nodes.slice(1).flatMap((_, i) => {
      const [fromM, toM] = [ruler.vertexM[i] as number, ruler.vertexM[i + 1] as number];
      if (!(toM > fromM)) return [];
      const found = byNodes(link, i, toM - fromM);
      return found === undefined ? byPlace(link, ruler, fromM, toM) : [{ ...found, fromM, toM }];
    });
    return joinPieces(pieces.map((piece) => ({ beforeId: link.id, ...piece })));
  });
}

type Piece = Omit<LinkPiece, 'beforeId'>;

/** Where both nodes of a segment are on one link: the pair of places whose distance fits best. */
function makeNodeMatch(after: readonly Link[]) {
  const places = new Map<number, { link: Link; atM: number }[]>();
  for (const link of after) {
    const { vertexM } = makeRuler(link.line);
    link.nodes.forEach((node, i) => {
      const list = places.get(node) ?? [];
      list.push({ link, atM: vertexM[i] as number });
      places.set(node, list);
    });
  }
  return (link: Link, segment: number, lengthM: number): Omit<Piece, 'fromM' | 'toM'> | undefined => {
    const ends = places.get(link.nodes[segment + 1] as number) ?? [];
    const pairs = (places.get(link.nodes[segment] as number) ?? []).flatMap((start) =>
      ends
        .filter((end) => end.link === start.link && end.atM !== start.atM)
        .map((end) => ({
          afterId: end.link.id,
          atFromM: start.atM,
          atToM: end.atM,
          misfitM: Math.abs(Math.abs(end.atM - start.atM) - lengthM),
        })),
    );
    const best = pairs.sort((a, b) => a.misfitM - b.misfitM || (a.afterId < b.afterId ? -1 : 1))[0];
    if (best === undefined) return undefined;
    const { misfitM: _, ...place } = best;
    return place;
  };
}

/** Where a segment lies: piece by piece the nearest link that runs the same way. */
function makePlaceMatch(after: readonly Link[]) {
  const rulers = after.map((link) => makeRuler(link.line));
  const find = makeBoxIndex(after);
  return (link: Link, ruler: Ruler, fromM: number, toM: number): Piece[] => {
    const count = Math.max(1, Math.ceil((toM - fromM) / STEP_M));
    const stepM = (toM - fromM) / count;
    return Array.from({ length: count }, (_, k) => fromM + stepM * (k + 0.5)).flatMap((middleM) => {
      const best = find(ruler, middleM)
        .map((i) => rate(link, ruler, middleM, after[i] as Link, rulers[i] as Ruler))
        .filter((rated) => rated !== undefined)
        .sort((a, b) => a.farM - b.farM || (a.afterId < b.afterId ? -1 : 1))[0];
      if (best === undefined) return [];
      const halfM = (stepM / 2) * best.direction;
      const clamp = (atM: number) => Math.min(best.lengthM, Math.max(0, atM));
      return [
        {
          fromM: middleM - stepM / 2,
          toM: middleM + stepM / 2,
          afterId: best.afterId,
          atFromM: clamp(best.atM - halfM),
          atToM: clamp(best.atM + halfM),
        },
      ];
    });
  };
}

function rate(link: Link, ruler: Ruler, middleM: number, other: Link, otherRuler: Ruler) {
  const at = ruler.pointAt(middleM);
  const bearing = ruler.bearingAt(middleM);
  if (!at.ok || !bearing.ok) throw new Error('a sample outside its link');
  const { chainageM: atM, distanceM } = otherRuler.locate(at.value);
  const otherBearing = otherRuler.bearingAt(atM);
  const foot = otherRuler.pointAt(atM);
  if (!otherBearing.ok || !foot.ok) throw new Error('a place outside its link');
  const turnDeg = Math.abs(((otherBearing.value - bearing.value + 540) % 360) - 180);
  const isReversed = turnDeg > 90;
  // Two one-way bores of opposite direction are twins, not one bore.
  if (isReversed && link.direction === 'forward' && other.direction === 'forward') return undefined;
  if (distanceM > NEAR_M || (isReversed ? 180 - turnDeg : turnDeg) > TURN_DEG) return undefined;
  const { east, north } = localDelta(foot.value, at.value);
  const rad = (otherBearing.value * Math.PI) / 180;
  if (Math.abs(east * Math.sin(rad) + north * Math.cos(rad)) > BEYOND_M) {
    if (atM === 0 || atM === otherRuler.lengthM) return undefined;
  }
  const farM =
    distanceM +
    (link.layer === other.layer ? 0 : OTHER_LAYER_M) +
    (link.roadClass === other.roadClass ? 0 : OTHER_CLASS_M);
  return { afterId: other.id, lengthM: otherRuler.lengthM, atM, farM, direction: isReversed ? -1 : 1 };
}

/** Which links may lie near a place, in their own order. */
function makeBoxIndex(links: readonly Link[]): (ruler: Ruler, atM: number) => readonly number[] {
  if (links.length === 0) return () => [];
  const index = new Flatbush(links.length);
  for (const { line } of links) {
    const [lons, lats] = [line.map(([lon]) => lon), line.map(([, lat]) => lat)];
    index.add(Math.min(...lons), Math.min(...lats), Math.max(...lons), Math.max(...lats));
  }
  index.finish();
  return (ruler, atM) => {
    const at = ruler.pointAt(atM);
    if (!at.ok) throw new Error('a sample outside its link');
    const [lon, lat] = at.value;
    // Generous: one degree of latitude is at least 110,574 m; longitude shrinks with the cosine.
    const dLat = NEAR_M / 110_574;
    const dLon = dLat / Math.max(0.05, Math.cos((lat * Math.PI) / 180));
    return index.search(lon - dLon, lat - dLat, lon + dLon, lat + dLat).sort((a, b) => a - b);
  };
}

/** Pieces that go on from each other on one link become one. */
function joinPieces(pieces: readonly LinkPiece[]): LinkPiece[] {
  const joined: LinkPiece[] = [];
  for (const piece of pieces) {
    const last = joined.at(-1);
    if (last !== undefined && goesOn(last, piece)) {
      joined[joined.length - 1] = { ...last, toM: piece.toM, atToM: piece.atToM };
    } else joined.push(piece);
  }
  return joined;
}

function goesOn(last: LinkPiece, next: LinkPiece): boolean {
  if (last.afterId !== next.afterId || next.fromM - last.toM > JOIN_M) return false;
  const [direction, nextDirection] = [last.atToM - last.atFromM, next.atToM - next.atFromM].map(Math.sign);
  if (direction !== nextDirection && direction !== 0 && nextDirection !== 0) return false;
  // Samples around a bend overlap or leave small gaps on the other line.
  return Math.abs(next.atFromM - last.atToM) <= 2 * STEP_M;
}

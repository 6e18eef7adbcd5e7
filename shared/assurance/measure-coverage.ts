import type { LinkId } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import type { Bore } from './bore-graph.ts';
import type { Measured } from './make-check.ts';

/** A stretch of a bore along which the same number of beacons is heard, chainages in metres. */
export type Depth = { readonly fromM: number; readonly toM: number; readonly depth: number };

/** What is shorter is rounding where two stretches only touch, metres. */
const SAME_M = 1e-3;

/**
 * For each bore: how many beacons are heard along it, exactly, from end to end; a piece for each change. Pieces of a
 * millimetre or less are left out.
 */
export function listDepths(
  bores: readonly Pick<Bore, 'id' | 'lengthM'>[],
  coverage: Design['coverage'],
): ReadonlyMap<LinkId, readonly Depth[]> {
  const changes = new Map<LinkId, (readonly [atM: number, by: number])[]>(
    bores.map(({ id, lengthM }) => [id, [[lengthM, 0]]]),
  );
  for (const { linkId, fromM, toM } of coverage.flatMap(({ stretches }) => stretches)) {
    changes.get(linkId)?.push([fromM, 1], [toM, -1]);
  }
  return new Map([...changes].map(([id, own]) => [id, toPieces(own)]));
}

function toPieces(changes: (readonly [atM: number, by: number])[]): readonly Depth[] {
  const pieces: Depth[] = [];
  let [fromM, depth] = [0, 0];
  for (const [toM, by] of changes.sort(([a], [b]) => a - b)) {
    if (toM - fromM > SAME_M) pieces.push({ fromM, toM, depth });
    fromM = Math.max(fromM, toM);
    depth += by;
  }
  return pieces;
}

/**
 * For each stretch of a bore where fewer than `required` beacons are heard: the fewest, and the middle of the longest
 * piece with so few. For a bore without such a stretch, the same of the whole bore.
 */
export function listThinnest(
  bores: readonly Pick<Bore, 'id' | 'lengthM'>[],
  coverage: Design['coverage'],
  required: number,
): readonly Measured[] {
  return [...listDepths(bores, coverage)].flatMap(([linkId, pieces]) => {
    const thin = groupThin(pieces, required);
    return (thin.length > 0 ? thin : [pieces]).flatMap((group) => {
      const worst = group.reduce<Depth | undefined>(
        (known, one) => (known === undefined || isWorse(one, known) ? one : known),
        undefined,
      );
      if (worst === undefined) return [];
      return [{ found: worst.depth, at: { linkId, chainageM: (worst.fromM + worst.toM) / 2 } }];
    });
  });
}

function groupThin(pieces: readonly Depth[], required: number): readonly (readonly Depth[])[] {
  const groups: Depth[][] = [];
  let last: Depth[] | undefined;
  for (const piece of pieces) {
    if (piece.depth >= required) last = undefined;
    else if (last !== undefined) last.push(piece);
    else {
      last = [piece];
      groups.push(last);
    }
  }
  return groups;
}

function isWorse(one: Depth, known: Depth): boolean {
  if (one.depth !== known.depth) return one.depth < known.depth;
  return one.toM - one.fromM > known.toM - known.fromM + SAME_M;
}

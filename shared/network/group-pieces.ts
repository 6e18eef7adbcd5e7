import type { LinkPiece } from './match-links.ts';
import type { LinkId } from './network.ts';

/** Pieces by the link that `of` names, in their order. */
export function groupPieces(
  pieces: readonly LinkPiece[],
  of: (piece: LinkPiece) => LinkId,
): ReadonlyMap<LinkId, readonly LinkPiece[]> {
  const groups = new Map<LinkId, LinkPiece[]>();
  for (const piece of pieces) {
    const group = groups.get(of(piece));
    if (group === undefined) groups.set(of(piece), [piece]);
    else group.push(piece);
  }
  return groups;
}

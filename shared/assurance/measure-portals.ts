import type { Bore, BoreGraph } from './bore-graph.ts';
import type { Measured } from './make-check.ts';

/** For each bore's end in the open air: metres from the portal to the first beacon, or to the bore's other end. */
export function listPortalDistances({ bores, open, atNode }: BoreGraph): readonly Measured[] {
  return bores.flatMap((bore) => {
    const ends = [
      { node: bore.fromNode, chainageM: 0, firstM: bore.places[0]?.chainageM },
      { node: bore.toNode, chainageM: bore.lengthM, firstM: fromEnd(bore) },
    ];
    return ends
      .filter(({ node }) => open.has(node))
      .map(({ node, chainageM, firstM }) => ({
        found: atNode.has(node) ? 0 : (firstM ?? bore.lengthM),
        at: { linkId: bore.id, chainageM },
      }));
  });
}

function fromEnd({ lengthM, places }: Bore): number | undefined {
  const last = places.at(-1);
  return last === undefined ? undefined : lengthM - last.chainageM;
}

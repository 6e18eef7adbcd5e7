import type { LonLat } from '../geodesy/lon-lat.ts';
import { localDelta } from '../geodesy/segment.ts';
import type { Link } from '../network/network.ts';
import type { Measured } from './make-check.ts';

/**
 * For each bore with a bend: how far the road's curve may run from the drawn line between its vertices, metres, and
 * where most. A chord of length s between turns of θ leaves s·θ/8 of its arc; of the two chords at a vertex the
 * shorter one counts, so that a straight before a curve is no error.
 */
export function listLineErrors(links: readonly Link[]): readonly Measured[] {
  return links.flatMap((link) => {
    let worst: Measured | undefined;
    let atM = 0;
    let before: { east: number; north: number; lengthM: number } | undefined;
    for (let i = 0; i + 1 < link.line.length; i += 1) {
      const { east, north } = localDelta(link.line[i] as LonLat, link.line[i + 1] as LonLat);
      const part = { east, north, lengthM: Math.hypot(east, north) };
      if (part.lengthM === 0) continue;
      if (before !== undefined) {
        const found = (Math.min(before.lengthM, part.lengthM) * turnRad(before, part)) / 8;
        if (found > (worst?.found ?? 0)) worst = { found, at: { linkId: link.id, chainageM: atM } };
      }
      atM += part.lengthM;
      before = part;
    }
    return worst === undefined ? [] : [worst];
  });
}

type Way = { readonly east: number; readonly north: number };

function turnRad(a: Way, b: Way): number {
  return Math.abs(Math.atan2(a.east * b.north - a.north * b.east, a.east * b.east + a.north * b.north));
}

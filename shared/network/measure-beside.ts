import { isBeyond } from '../alignment/is-beyond.ts';
import type { Ruler } from '../alignment/make-ruler.ts';
import type { Link } from './network.ts';
import type { Traced } from './trace-links.ts';

/** The length over which `left` runs beside `right` in the opposite direction, and how far apart on average. */
export function measureBeside(left: readonly Link[], right: readonly Link[], twinM: number, traced: Traced) {
  const others = right.map((link) => traced(link));
  let lengthM = 0;
  let apartM = 0;
  for (const link of left) {
    const { ruler, samples } = traced(link);
    const stepM = ruler.lengthM / samples.length;
    for (const { at, bearingDeg } of samples) {
      const gaps = others
        .filter((other) => !other.isFarther(at, twinM))
        .map(({ ruler: other }) => ({ other, located: other.locate(at) }))
        .filter(
          ({ other, located }) =>
            located.distanceM <= twinM &&
            isOpposite(other, located.chainageM, bearingDeg) &&
            !isBeyond(other, located.chainageM, at, BEYOND_M),
        );
      if (gaps.length === 0) continue;
      lengthM += stepM;
      apartM += stepM * Math.min(...gaps.map(({ located }) => located.distanceM));
    }
  }
  return { lengthM, meanM: lengthM === 0 ? 0 : apartM / lengthM };
}

function isOpposite(ruler: Ruler, chainageM: number, bearingDeg: number): boolean {
  const other = ruler.bearingAt(chainageM);
  if (!other.ok) return false;
  return Math.abs(((((other.value - bearingDeg) % 360) + 360) % 360) - 180) < 30;
}

/** How far past an end of a line a point may lie and still count as beside it, metres: two links of one bore meet in a bend. */
const BEYOND_M = 5;

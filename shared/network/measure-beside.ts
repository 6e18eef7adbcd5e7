import type { Ruler } from '../alignment/make-ruler.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { localDelta } from '../geodesy/segment.ts';
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
            !isBeyond(other, located.chainageM, at),
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

/** Whether a point lies past the end of a line, in the line's own direction: then it is not beside it. */
function isBeyond(ruler: Ruler, chainageM: number, at: LonLat): boolean {
  if (chainageM > 0 && chainageM < ruler.lengthM) return false;
  const end = ruler.pointAt(chainageM);
  const direction = ruler.bearingAt(chainageM);
  if (!end.ok || !direction.ok) return true;
  const { east, north } = localDelta(end.value, at);
  const rad = (direction.value * Math.PI) / 180;
  return Math.abs(east * Math.sin(rad) + north * Math.cos(rad)) > BEYOND_M;
}

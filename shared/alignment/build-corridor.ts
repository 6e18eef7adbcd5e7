import type { LonLat } from '../geodesy/lon-lat.ts';
import { localDelta } from '../geodesy/segment.ts';
import type { Ruler } from './make-ruler.ts';
import { placeBeside } from './place-beside.ts';

/** No straight piece of a corridor's edge is longer: the wall follows the bend. */
const STEP_M = 5;

/**
 * The strip of carriageway from one chainage to another, `halfWidthM` to either side of its middle, which lies
 * `centreM` to the right of the line: one closed ring, counter-clockwise (RFC 7946 §3.1.6). Chainages are cut to the
 * line; an empty stretch gives no ring.
 */
export function buildCorridor(
  ruler: Ruler,
  fromM: number,
  toM: number,
  halfWidthM: number,
  centreM = 0,
): readonly LonLat[] | undefined {
  const startM = Math.max(0, fromM);
  const endM = Math.min(ruler.lengthM, toM);
  if (!(endM - startM > 0.01)) return undefined;
  const steps = stepsOf(ruler, startM, endM);
  const right = edge(ruler, steps, centreM + halfWidthM);
  const left = edge(ruler, steps, centreM - halfWidthM).reverse();
  const first = right[0] as LonLat;
  return [...right, ...left, first];
}

/** Chainages at most STEP_M apart, every vertex of the line among them. */
function stepsOf(ruler: Ruler, startM: number, endM: number): number[] {
  const corners = [startM, ...ruler.vertexM.filter((m) => m > startM + 0.01 && m < endM - 0.01), endM];
  const steps: number[] = [startM];
  for (let i = 1; i < corners.length; i += 1) {
    const a = corners[i - 1] ?? startM;
    const b = corners[i] ?? endM;
    const pieces = Math.max(1, Math.ceil((b - a) / STEP_M));
    for (let k = 1; k <= pieces; k += 1) steps.push(a + ((b - a) * k) / pieces);
  }
  return steps;
}

/** One edge; where the inside of a bend would run backwards, its points are left out so that the ring does not cross itself. */
function edge(ruler: Ruler, steps: readonly number[], offsetM: number): LonLat[] {
  const points: LonLat[] = [];
  for (const chainageM of steps) {
    const beside = placeBeside(ruler, chainageM, offsetM);
    const bearing = ruler.bearingAt(chainageM);
    if (!beside.ok || !bearing.ok) throw new Error('corridor step outside the line');
    const last = points.at(-1);
    if (last !== undefined) {
      const { east, north } = localDelta(last, beside.value);
      const rad = (bearing.value * Math.PI) / 180;
      if (east * Math.sin(rad) + north * Math.cos(rad) <= 0) continue;
    }
    points.push(beside.value);
  }
  return points;
}

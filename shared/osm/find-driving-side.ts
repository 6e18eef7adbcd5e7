import type { LonLat } from '../geodesy/lon-lat.ts';
import type { Tags } from './extract.ts';
import type { DrivingSide } from './read-placement.ts';

type Ring = { readonly tags: Tags; readonly line: readonly LonLat[] };

/**
 * On which side traffic keeps, as the map data show it: by `driving_side` on a road, else by most roundabouts, which
 * are drawn as they are driven: counter-clockwise where traffic keeps right. Undefined where nothing shows it.
 */
export function findDrivingSide(roads: readonly Ring[]): DrivingSide | undefined {
  let right = 0;
  for (const { tags, line } of roads) {
    const side = tags.driving_side;
    if (side === 'left' || side === 'right') return side;
    if (tags.junction === 'roundabout') right += Math.sign(turnOf(line));
  }
  return right === 0 ? undefined : right > 0 ? 'right' : 'left';
}

/** Twice the area in square degrees, positive counter-clockwise; 0 for a line that is not closed. */
function turnOf(line: readonly LonLat[]): number {
  const [first, last] = [line[0], line.at(-1)];
  if (first === undefined || last === undefined || first[0] !== last[0] || first[1] !== last[1]) return 0;
  let sum = 0;
  for (let i = 1; i < line.length; i += 1) {
    const [a, b] = [line[i - 1] as LonLat, line[i] as LonLat];
    // From the first corner, so that the area of a small ring is not lost in rounding.
    sum += (a[0] - first[0]) * (b[1] - first[1]) - (b[0] - first[0]) * (a[1] - first[1]);
  }
  return sum;
}

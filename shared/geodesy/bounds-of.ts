import type { BBox, LonLat } from './lon-lat.ts';

/** The smallest box in degrees around some lines, at least one position in all; not across the antimeridian. */
export function boundsOf(lines: Iterable<readonly LonLat[]>): BBox {
  let [west, south, east, north] = [
    Number.POSITIVE_INFINITY,
    Number.POSITIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
    Number.NEGATIVE_INFINITY,
  ];
  for (const line of lines) {
    for (const [lon, lat] of line) {
      if (lon < west) west = lon;
      if (lat < south) south = lat;
      if (lon > east) east = lon;
      if (lat > north) north = lat;
    }
  }
  return [west, south, east, north];
}

import type { BBox } from '../geodesy/lon-lat.ts';

/** A bounding box in degrees as a file claims it, or undefined where the claim is no area on the globe. */
export function toBBox(west: number, south: number, east: number, north: number): BBox | undefined {
  const onGlobe =
    Math.abs(west) <= 180 && Math.abs(east) <= 180 && south >= -90 && north <= 90 && south <= north;
  return onGlobe ? [west, south, east, north] : undefined;
}

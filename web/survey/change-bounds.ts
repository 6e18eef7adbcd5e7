import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { Comparison } from '../../shared/wire/comparison.ts';
import type { BeaconChange, LinkChange } from './list-change-rows.ts';

/** Half the side of the least piece of map that is shown, degrees: about 60 m of latitude. */
const AROUND_DEG = 0.00055;

/** Where a changed link lies and lay; undefined where neither is known. */
export function boundsOfLink({ lineBefore, lineAfter }: LinkChange): BBox | undefined {
  return boundsOf([...(lineBefore ?? []), ...(lineAfter ?? [])]);
}

/** A beacon's old and new place, with the street around them. */
export function boundsOfBeacon({ fromAt, toAt }: BeaconChange): BBox | undefined {
  return boundsOf([fromAt, toAt].filter((at) => at !== undefined));
}

/** Everything of one tunnel that changed, with the place that stands for it. */
export function boundsOfTunnel(comparison: Comparison, id: string, at: LonLat): BBox {
  const lines = comparison.links
    .filter((link) => link.complexId === id)
    .flatMap(({ lineBefore, lineAfter }) => [...(lineBefore ?? []), ...(lineAfter ?? [])]);
  return boundsOf([at, ...lines]) as BBox;
}

/** Everything that changed. */
export function boundsOfAll({ complexes, links, beacons }: Comparison): BBox | undefined {
  return boundsOf([
    ...complexes.map(({ at }) => at),
    ...links.flatMap(({ lineBefore, lineAfter }) => [...(lineBefore ?? []), ...(lineAfter ?? [])]),
    ...beacons.flatMap(({ fromAt, toAt }) => [fromAt, toAt]).filter((at) => at !== undefined),
  ]);
}

/** Positions by a loop: thousands of them are too many to be arguments of one call. */
function boundsOf(positions: readonly LonLat[]): BBox | undefined {
  if (positions.length === 0) return undefined;
  let [west, south, east, north] = [180, 90, -180, -90];
  for (const [lon, lat] of positions) {
    west = Math.min(west, lon);
    south = Math.min(south, lat);
    east = Math.max(east, lon);
    north = Math.max(north, lat);
  }
  const padLon = Math.max(0, AROUND_DEG - (east - west) / 2);
  const padLat = Math.max(0, AROUND_DEG - (north - south) / 2);
  return [west - padLon, south - padLat, east + padLon, north + padLat];
}

import { boundsOf } from '../../shared/geodesy/bounds-of.ts';
import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import type { RevisionComparison } from '../../shared/wire/comparison.ts';
import type { BeaconChange, LinkChange } from './list-change-rows.ts';

/** Half the side of the least piece of map that is shown, degrees: about 60 m of latitude. */
const AROUND_DEG = 0.00055;

/** Where a changed link lies and lay; undefined where neither is known. */
export function boundsOfLink({ lineBefore, lineAfter }: LinkChange): BBox | undefined {
  return withSurroundings([...(lineBefore ?? []), ...(lineAfter ?? [])]);
}

/** A beacon's old and new place, with the street around them. */
export function boundsOfBeacon({ fromAt, toAt }: BeaconChange): BBox | undefined {
  return withSurroundings([fromAt, toAt].filter((at) => at !== undefined));
}

/** Everything of one tunnel that changed, with the place that stands for it. */
export function boundsOfTunnel(comparison: RevisionComparison, id: string, at: LonLat): BBox {
  const lines = comparison.links
    .filter((link) => link.complexId === id)
    .flatMap(({ lineBefore, lineAfter }) => [...(lineBefore ?? []), ...(lineAfter ?? [])]);
  return withSurroundings([at, ...lines]) as BBox;
}

/** Everything that changed. */
export function boundsOfAll({ complexes, links, beacons }: RevisionComparison): BBox | undefined {
  return withSurroundings([
    ...complexes.map(({ at }) => at),
    ...links.flatMap(({ lineBefore, lineAfter }) => [...(lineBefore ?? []), ...(lineAfter ?? [])]),
    ...beacons.flatMap(({ fromAt, toAt }) => [fromAt, toAt]).filter((at) => at !== undefined),
  ]);
}

/** The bounds of some positions, with something around them. */
function withSurroundings(positions: readonly LonLat[]): BBox | undefined {
  if (positions.length === 0) return undefined;
  const [west, south, east, north] = boundsOf([positions]);
  const padLon = Math.max(0, AROUND_DEG - (east - west) / 2);
  const padLat = Math.max(0, AROUND_DEG - (north - south) / 2);
  return [west - padLon, south - padLat, east + padLon, north + padLat];
}

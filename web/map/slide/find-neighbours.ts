import type { FeatureCollection } from 'geojson';
import type { LineAddress } from '../../../shared/alignment/line-address.ts';

/** Distances along the link to the next beacons before and after, metres; undefined where there is none. */
export type Neighbours = { readonly beforeM: number | undefined; readonly afterM: number | undefined };

/** The neighbours on the same link of a beacon that stands at `at`, itself left out. */
export function findNeighbours(beacons: FeatureCollection, beaconId: string, at: LineAddress): Neighbours {
  const others = beacons.features.flatMap(({ properties }) =>
    properties?.link === at.linkId && properties.beacon !== beaconId ? [Number(properties.chainageM)] : [],
  );
  const before = others.filter((chainageM) => chainageM <= at.chainageM);
  const after = others.filter((chainageM) => chainageM > at.chainageM);
  return {
    beforeM: before.length === 0 ? undefined : at.chainageM - Math.max(...before),
    afterM: after.length === 0 ? undefined : Math.min(...after) - at.chainageM,
  };
}

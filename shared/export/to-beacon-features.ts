import type { Feature, Point } from 'geojson';
import type { ComplexNetwork } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import { makeWallPlacer } from '../placement/place-on-wall.ts';
import { makeFeature, roundTo, toPosition } from './make-collection.ts';

/** The `beacons` features of one design: their places on the wall. The id carries the complex, so that it is unique in a city. */
export function toBeaconFeatures(network: ComplexNetwork, design: Design): Feature<Point>[] {
  const placeOnWall = makeWallPlacer(network.links);
  return design.beacons.map((beacon) => {
    return makeFeature(
      `${network.complex.id}/${beacon.id}`,
      { type: 'Point', coordinates: toPosition(placeOnWall(beacon)) },
      {
        complex: network.complex.id,
        beacon: beacon.id,
        link: beacon.at.linkId,
        chainageM: roundTo(beacon.at.chainageM, 3),
        offsetM: roundTo(beacon.offsetM, 3),
        side: beacon.side,
        heightM: beacon.heightM,
        role: beacon.role,
        locked: beacon.locked,
        coverageM: design.rules.coverageRadiusM,
        state: 'planned',
      },
    );
  });
}

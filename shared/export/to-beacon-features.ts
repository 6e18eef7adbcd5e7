import type { Feature, Point } from 'geojson';
import type { ComplexNetwork } from '../network/network.ts';
import type { BeaconId } from '../placement/beacon.ts';
import type { Design } from '../placement/design.ts';
import { makeWallPlacer } from '../placement/place-on-wall.ts';
import { makeFeature, roundTo, toPosition } from './make-collection.ts';

/** The `beacons` features of one design: their places on the wall. The id carries the complex, so that it is unique in a city. */
export function toBeaconFeatures(network: ComplexNetwork, design: Design): Feature<Point>[] {
  const placeOnWall = makeWallPlacer(network.links);
  const radii = new Map(design.coverage.map(({ beaconId, radiusM }) => [beaconId, radiusM]));
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
        coverageM: roundTo(getRadiusM(radii, beacon.id), 3),
        state: 'planned',
      },
    );
  });
}

function getRadiusM(radii: ReadonlyMap<BeaconId, number>, id: BeaconId): number {
  const radiusM = radii.get(id);
  if (radiusM === undefined) throw new Error(`the design does not say how far beacon ${id} is heard`);
  return radiusM;
}

import type { Feature, Point } from 'geojson';
import { makeRuler } from '../alignment/make-ruler.ts';
import { placeBeside } from '../alignment/place-beside.ts';
import type { ComplexNetwork } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import { makeFeature, roundTo, toPosition } from './make-collection.ts';

/** The `beacons` features of one design: their places on the wall. The id carries the complex, so that it is unique in a city. */
export function toBeaconFeatures(network: ComplexNetwork, design: Design): Feature<Point>[] {
  const rulers = new Map(network.links.map((link) => [link.id, makeRuler(link.line)]));
  return design.beacons.map((beacon) => {
    const ruler = rulers.get(beacon.at.linkId);
    if (ruler === undefined) throw new Error(`beacon ${beacon.id} stands on a link that its complex lacks`);
    const at = placeBeside(ruler, beacon.at.chainageM, beacon.offsetM);
    if (!at.ok) throw new Error(`beacon ${beacon.id} stands outside its link`);
    return makeFeature(
      `${network.complex.id}/${beacon.id}`,
      { type: 'Point', coordinates: toPosition(at.value) },
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

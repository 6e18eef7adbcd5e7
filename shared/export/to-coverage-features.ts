import type { Feature, MultiPolygon, Position } from 'geojson';
import { buildCorridor } from '../alignment/build-corridor.ts';
import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import type { ComplexNetwork, Link } from '../network/network.ts';
import type { Design } from '../placement/design.ts';
import { centreOffsetM, halfWidthM } from '../placement/wall-offset.ts';
import type { LinkStretch } from '../radio/cover-bores.ts';
import { makeFeature, roundTo, toPosition } from './make-collection.ts';
import { uniteRings } from './unite-rings.ts';

/** The `coverage` features: for each beacon the carriageway along which it is heard, through forks and merges. */
export function toCoverageFeatures(network: ComplexNetwork, design: Design): Feature<MultiPolygon>[] {
  const byId = new Map(network.links.map((link) => [link.id, { link, ruler: makeRuler(link.line) }]));
  return design.coverage.flatMap(({ beaconId, radiusM, stretches }) => {
    const rings = stretches.flatMap((stretch) => {
      const found = byId.get(stretch.linkId);
      const ring = found === undefined ? undefined : toRing(found.link, found.ruler, stretch, design);
      return ring === undefined ? [] : [ring];
    });
    if (rings.length === 0) return [];
    return makeFeature(`${network.complex.id}/${beaconId}/coverage`, uniteRings(rings), {
      complex: network.complex.id,
      beacon: `${network.complex.id}/${beaconId}`,
      rangeM: roundTo(radiusM, 3),
    });
  });
}

function toRing(link: Link, ruler: Ruler, stretch: LinkStretch, design: Design): Position[] | undefined {
  const middleM = (stretch.fromM + stretch.toM) / 2;
  const widthM = halfWidthM(link, middleM, design.rules);
  const centreM = centreOffsetM(link, middleM, design.rules);
  return buildCorridor(ruler, stretch.fromM, stretch.toM, widthM, centreM)?.map(toPosition);
}

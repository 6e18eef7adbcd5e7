import type { Feature, FeatureCollection, LineString } from 'geojson';
import { makeRuler } from '../../../shared/alignment/make-ruler.ts';
import { placeBeside } from '../../../shared/alignment/place-beside.ts';
import type { Link } from '../../../shared/network/network.ts';
import { WALLS, type Wall } from '../../../shared/placement/beacon.ts';
import type { KeepOut } from '../../../shared/placement/keep-out.ts';
import type { Rules } from '../../../shared/placement/rules.ts';
import { wallOffsetM } from '../../../shared/placement/wall-offset.ts';

/** Each keep-out as a line along its wall, for both walls as two; none where the rules, and so the walls, are not known. */
export function toKeepOutFeatures(
  links: readonly Link[],
  keepOuts: readonly KeepOut[],
  rules: Rules | undefined,
): FeatureCollection {
  const features = keepOuts.flatMap((keepOut) => {
    const link = links.find(({ id }) => id === keepOut.linkId);
    if (link === undefined || rules === undefined) return [];
    const walls = WALLS.filter((wall) => keepOut.wall === wall || keepOut.wall === 'both');
    return walls.map((wall) => toFeature(link, keepOut, wall, rules));
  });
  return { type: 'FeatureCollection', features };
}

function toFeature(link: Link, { id, fromM, toM }: KeepOut, wall: Wall, rules: Rules): Feature<LineString> {
  const ruler = makeRuler(link.line);
  const endM = Math.min(toM, ruler.lengthM);
  const between = ruler.vertexM.filter((vertexM) => vertexM > fromM && vertexM < endM);
  const coordinates = [fromM, ...between, endM].map((chainageM) => {
    const place = placeBeside(ruler, chainageM, wallOffsetM(link, chainageM, rules, wall));
    if (!place.ok) throw new Error(`keep-out ${id} lies outside its link`);
    return [...place.value];
  });
  return {
    type: 'Feature',
    id: `${id}/${wall}`,
    properties: { keepOut: id, wall },
    geometry: { type: 'LineString', coordinates },
  };
}

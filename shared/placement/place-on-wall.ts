import { makeRuler } from '../alignment/make-ruler.ts';
import { placeBeside } from '../alignment/place-beside.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { Link } from '../network/network.ts';
import type { Beacon } from './beacon.ts';

/** Makes the function that gives a beacon's place on the wall; it throws where a beacon stands on none of the links. */
export function makeWallPlacer(
  links: readonly Link[],
): (beacon: Pick<Beacon, 'id' | 'at' | 'offsetM'>) => LonLat {
  const rulers = new Map(links.map((link) => [link.id, makeRuler(link.line)]));
  return ({ id, at, offsetM }) => {
    const ruler = rulers.get(at.linkId);
    if (ruler === undefined) throw new Error(`beacon ${id} stands on a link that its complex lacks`);
    const place = placeBeside(ruler, at.chainageM, offsetM);
    if (!place.ok) throw new Error(`beacon ${id} stands outside its link`);
    return place.value;
  };
}

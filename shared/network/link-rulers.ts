import { makeRuler, type Ruler } from '../alignment/make-ruler.ts';
import { makeFarTest } from '../alignment/quick-distance.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { Link } from './network.ts';

/** A link's ruler, and the quick test whether a position surely lies farther from it than so many metres. */
export type LinkRuler = { readonly ruler: Ruler; isFarther(at: LonLat, distanceM: number): boolean };

/** Gives the ruler of a link. */
export type LinkRulers = (link: Link) => LinkRuler;

/** Makes the rulers of links when they are first asked for, each once. */
export function makeLinkRulers(): LinkRulers {
  const made = new Map<Link, LinkRuler>();
  return (link) => {
    const known = made.get(link);
    if (known !== undefined) return known;
    const ruler = makeRuler(link.line);
    const linkRuler = { ruler, isFarther: makeFarTest(ruler) };
    made.set(link, linkRuler);
    return linkRuler;
  };
}

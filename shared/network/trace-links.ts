import { bearing } from '@turf/turf';
import type { Ruler } from '../alignment/make-ruler.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import type { LinkRuler, LinkRulers } from './link-rulers.ts';
import type { Link } from './network.ts';

const SAMPLE_M = 20;

type Sample = { readonly at: LonLat; readonly bearingDeg: number };

/** A link's ruler with places along it, each link traced once. */
export type Traced = (link: Link) => LinkRuler & { readonly samples: readonly Sample[] };

/** Traces links when they are asked for, each one once. */
export function traceLinks(rulers: LinkRulers): Traced {
  const traced = new Map<Link, ReturnType<Traced>>();
  return (link) => {
    const known = traced.get(link);
    if (known !== undefined) return known;
    const linkRuler = rulers(link);
    const made = { ...linkRuler, samples: takeSamples(linkRuler.ruler) };
    traced.set(link, made);
    return made;
  };
}

/** Middle points of equal pieces of about SAMPLE_M, with the direction there. */
function takeSamples(ruler: Ruler): readonly Sample[] {
  const pieces = Math.max(2, Math.round(ruler.lengthM / SAMPLE_M));
  return Array.from({ length: pieces }, (_, k) => {
    const chainageM = ((k + 0.5) / pieces) * ruler.lengthM;
    const at = ruler.pointAt(chainageM);
    const ahead = ruler.pointAt(Math.min(ruler.lengthM, chainageM + 1));
    if (!at.ok || !ahead.ok) throw new Error('sample outside the line');
    return { at: at.value, bearingDeg: bearing([...at.value], [...ahead.value]) };
  });
}

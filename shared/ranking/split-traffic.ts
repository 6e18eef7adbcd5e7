import { isBeyond } from '../alignment/is-beyond.ts';
import { joinByNodes } from '../network/group-links.ts';
import { type LinkRulers, makeLinkRulers } from '../network/link-rulers.ts';
import type { Complex, Link } from '../network/network.ts';

/** One link of a road, and how many of the road's one-way bores carry its traffic side by side there. */
export type Share = { readonly link: Link; readonly complex: Complex; readonly abreast: number };

/** Bores whose directions differ by less, either way, run side by side. */
const PARALLEL_DEG = 45;
/** How far past its end a line may be left and still count as beside, metres. */
const BEYOND_M = 5;

/**
 * Makes the function that spreads a road's traffic over its links. A road's ref or name stands on its ramps below ground
 * too, but they carry a part of its traffic only: they are left out where there is a main carriageway. The same list of links
 * gets the same answer, worked out once.
 */
export function makeSplitter(
  complexOf: (link: Link) => Complex,
): (links: readonly Link[]) => readonly Share[] {
  const rulers = makeLinkRulers();
  const known = new Map<readonly Link[], readonly Share[]>();
  return (links) => {
    const before = known.get(links);
    if (before !== undefined) return before;
    const main = links.filter(({ roadClass }) => !roadClass.endsWith('_link'));
    const byComplex = new Map<Complex, Link[]>();
    for (const link of main.length === 0 ? links : main) {
      const own = byComplex.get(complexOf(link)) ?? [];
      byComplex.set(complexOf(link), own);
      own.push(link);
    }
    const shares = [...byComplex].flatMap(([complex, own]) => splitComplex(complex, own, rulers));
    known.set(links, shares);
    return shares;
  };
}

/** What comes in at one end of a bore goes out at the other: all links that hang together get the same part. */
function splitComplex(complex: Complex, links: readonly Link[], rulers: LinkRulers): readonly Share[] {
  return joinByNodes(links).flatMap((bore) => {
    const abreast = bore.reduce((most, link) => Math.max(most, countAbreast(link, links, rulers)), 1);
    return bore.map((link) => ({ link, complex, abreast: link.direction === 'forward' ? abreast : 1 }));
  });
}

/**
 * How many of the one-way links lie side by side at the middle of one of them, itself counted: 1 for one alone, for
 * links one behind the other, and for a two-way bore.
 */
function countAbreast(link: Link, links: readonly Link[], rulers: LinkRulers): number {
  if (link.direction !== 'forward') return 1;
  const { ruler } = rulers(link);
  const at = ruler.pointAt(ruler.lengthM / 2);
  const bearing = ruler.bearingAt(ruler.lengthM / 2);
  if (!at.ok || !bearing.ok) return 1;
  const beside = links.filter((other) => {
    if (other === link || other.direction !== 'forward') return false;
    const { ruler: line } = rulers(other);
    const { chainageM } = line.locate(at.value);
    const its = line.bearingAt(chainageM);
    return its.ok && isParallel(its.value, bearing.value) && !isBeyond(line, chainageM, at.value, BEYOND_M);
  });
  return 1 + beside.length;
}

function isParallel(aDeg: number, bDeg: number): boolean {
  const apartDeg = (((aDeg - bDeg) % 180) + 180) % 180;
  return Math.min(apartDeg, 180 - apartDeg) < PARALLEL_DEG;
}

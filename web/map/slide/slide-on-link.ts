import type { LineAddress } from '../../../shared/alignment/line-address.ts';
import { makeRuler, type Ruler } from '../../../shared/alignment/make-ruler.ts';
import { placeBeside } from '../../../shared/alignment/place-beside.ts';
import type { LonLat } from '../../../shared/geodesy/lon-lat.ts';
import type { ComplexNetwork, LinkId } from '../../../shared/network/network.ts';

/** A beacon that can be slid along its own link: where it is, and its distance from the centreline. */
export type Slidable = { readonly at: LineAddress; readonly offsetM: number };

/** The beacon's link, measured once at the start of a slide. */
export type Track = {
  /** The place on the link nearest to a position, to the centimetre. */
  toAddress(cursor: LonLat): LineAddress;
  /** `byM` along from an address; stays on the link. */
  moveBy(from: LineAddress, byM: number): LineAddress;
  /** Where the beacon would stand on the wall. */
  toPosition(at: LineAddress): LonLat;
};

/** The track of one beacon; undefined where the network lacks its link. */
export function makeTrack(network: ComplexNetwork, { at, offsetM }: Slidable): Track | undefined {
  const link = network.links.find((candidate) => candidate.id === at.linkId);
  if (link === undefined) return undefined;
  const ruler = makeRuler(link.line);
  // The design checks against the link's own length: never beyond the shorter of the two.
  const endM = Math.min(ruler.lengthM, link.lengthM);
  const addressAt = (chainageM: number): LineAddress => ({
    linkId: link.id as LinkId,
    chainageM: Math.min(endM, Math.max(0, Math.round(chainageM * 100) / 100)),
  });
  return {
    toAddress: (cursor) => addressAt(ruler.locate(cursor).chainageM),
    moveBy: (from, byM) => addressAt(from.chainageM + byM),
    toPosition: (to) => positionOf(ruler, to.chainageM, offsetM),
  };
}

function positionOf(ruler: Ruler, chainageM: number, offsetM: number): LonLat {
  const place = placeBeside(ruler, chainageM, offsetM);
  if (!place.ok) throw new Error(`chainage ${chainageM} was held on its link, yet is outside it`);
  return place.value;
}

import type { Located } from '../alignment/make-ruler.ts';
import { boundsOf } from '../geodesy/bounds-of.ts';
import type { LonLat } from '../geodesy/lon-lat.ts';
import { makeBoxIndex } from '../geodesy/make-box-index.ts';
import { segmentLengthM } from '../geodesy/segment.ts';
import { makeLinkRulers } from '../network/link-rulers.ts';
import type { ComplexId, Link, TunnelNetwork } from '../network/network.ts';
import type { Finding, Staged } from '../outcome/finding.ts';
import type { Existing, ExistingBeacon, ExistingFile, ExistingMatch } from './existing.ts';
import { rowFinding, toNoteFindings } from './row-note.ts';

/** When a beacon of an inventory belongs to a bore. Project defaults. */
export type ExistingLimits = {
  /** Farther from the bore's line a beacon belongs to none, metres. */
  readonly withinM: number;
  /** A second bore that is farther by less than this makes it ambiguous, metres. */
  readonly ambiguousM: number;
  /** It is given to the nearest bore all the same where the second is at least so many times as far. */
  readonly clearRatio: number;
};

export const EXISTING_LIMITS: ExistingLimits = { withinM: 30, ambiguousM: 10, clearRatio: 2 };

/** A bore near a beacon, and where on it. */
type Near = { readonly link: Link; readonly located: Located };

/**
 * Gives each beacon of an inventory to the nearest bore within the limit, with chainage and side. Where another bore is
 * hardly farther (and the two do not meet there) a finding says so, and it is given only where the nearest is clearly
 * nearer, or to the tunnel where all of them are its bores; so does a beacon near none. Positions from the ground up tell nothing of stacked bores: those are ambiguous.
 */
export function matchExisting(
  network: TunnelNetwork,
  file: ExistingFile,
  limits: ExistingLimits = EXISTING_LIMITS,
): Staged<Existing> {
  const findNear = makeFinder(network.links, limits.withinM);
  const complexOf = new Map(
    network.complexes.flatMap((complex) => complex.linkIds.map((id) => [id, complex.id] as const)),
  );
  const codes = { unusable: 'existing-unusable', ignored: 'existing-value-ignored' } as const;
  const findings: Finding[] = [...toNoteFindings(file.notes, codes)];
  const matches: ExistingMatch[] = [];
  for (const item of file.items) {
    const [nearest, ...others] = findNear(item.at);
    if (nearest === undefined) {
      findings.push(rowFinding('existing-unmatched', item.line, toParams(item), item.at));
      continue;
    }
    const rivals = others.filter((other) => isRival(nearest, other, item.at, limits));
    const [rival] = rivals;
    const isClear =
      rival === undefined || rival.located.distanceM >= limits.clearRatio * nearest.located.distanceM;
    const complexId = complexOf.get(nearest.link.id) as ComplexId;
    // Between two cells of one tunnel: the tunnel has it, whichever bore it is.
    const isInTunnel = rivals.every(({ link }) => complexOf.get(link.id) === complexId);
    if (rival !== undefined) {
      const given = isClear ? 'yes' : isInTunnel ? 'to the tunnel' : 'no';
      const params = { ...toParams(item), ...toDistances(nearest, rival), given };
      findings.push(rowFinding('existing-ambiguous', item.line, params, item.at));
    }
    if (isClear || isInTunnel) matches.push(toMatch(item, nearest, complexId, isClear));
  }
  const byComplex: Record<string, ExistingMatch[]> = {};
  for (const match of matches) {
    const own = byComplex[match.complexId] ?? [];
    byComplex[match.complexId] = own;
    own.push(match);
  }
  return { value: { byComplex, itemCount: file.items.length, matchedCount: matches.length }, findings };
}

/** Makes the function that lists the bores within reach of a position, the nearest first. */
function makeFinder(links: readonly Link[], withinM: number): (at: LonLat) => readonly Near[] {
  const near = makeBoxIndex(links.map((link) => boundsOf([link.line])));
  const rulers = makeLinkRulers();
  return (at) =>
    near(boundsOf([[at]]), withinM)
      .flatMap((i): Near[] => {
        const link = links[i] as Link;
        const { ruler, isFarther } = rulers(link);
        if (isFarther(at, withinM)) return [];
        const located = ruler.locate(at);
        return located.distanceM <= withinM ? [{ link, located }] : [];
      })
      .sort((a, b) => a.located.distanceM - b.located.distanceM);
}

function isRival(nearest: Near, other: Near, at: LonLat, { ambiguousM, withinM }: ExistingLimits): boolean {
  if (other.located.distanceM >= nearest.located.distanceM + ambiguousM) return false;
  return !listShared(nearest.link, other.link).some((node) => segmentLengthM(node, at) <= withinM);
}

/** Where two links meet. */
function listShared(a: Link, b: Link): readonly LonLat[] {
  const ends: readonly (readonly [number, LonLat | undefined])[] = [
    [a.fromNode, a.line[0]],
    [a.toNode, a.line.at(-1)],
  ];
  return ends.flatMap(([node, place]) =>
    place !== undefined && (node === b.fromNode || node === b.toNode) ? [place] : [],
  );
}

function toMatch(
  item: ExistingBeacon,
  { link, located }: Near,
  complexId: ComplexId,
  isBoreSure: boolean,
): ExistingMatch {
  const { chainageM, distanceM, offsetM } = located;
  const at = { linkId: link.id, chainageM };
  return { item, complexId, at, distanceM, side: offsetM < 0 ? 'left' : 'right', isBoreSure };
}

function toParams({ deviceId }: ExistingBeacon): Finding['params'] {
  return deviceId === undefined ? {} : { device: deviceId };
}

function toDistances(nearest: Near, rival: Near): Finding['params'] {
  const tenths = (lengthM: number) => Math.round(lengthM * 10) / 10;
  return {
    link: nearest.link.id,
    distanceM: tenths(nearest.located.distanceM),
    otherLink: rival.link.id,
    otherDistanceM: tenths(rival.located.distanceM),
  };
}

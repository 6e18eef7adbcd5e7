import type { Feature, LineString } from 'geojson';
import { makeRuler, type Ruler } from '../../shared/alignment/make-ruler.ts';
import type { BBox, LonLat } from '../../shared/geodesy/lon-lat.ts';
import { localDelta } from '../../shared/geodesy/segment.ts';
import type { TunnelRow } from '../session/tunnel-row.ts';
import { listTunnels } from '../survey/list-tunnels.ts';

/** Another tunnel that could be joined, the two ways where the two come nearest, and how near, metres. */
export type JoinCandidate = {
  readonly row: TunnelRow;
  readonly distanceM: number;
  readonly ways: readonly [number, number];
};

/** So many are measured exactly and offered; the rest is found by typing. */
const OFFERED = 20;

/**
 * The tunnels nearest to one, of its kind, nearest first; `text` filters by name and road number. Roughly sorted by
 * their bounds, the nearest then measured between their bores. `farther` counts those that are not offered.
 */
export function listJoinCandidates(
  tunnel: TunnelRow,
  rows: readonly TunnelRow[],
  bores: readonly Feature[],
  text: string,
): { readonly candidates: readonly JoinCandidate[]; readonly farther: number } {
  const sameKind = rows.filter((row) => row.id !== tunnel.id && row.kind === tunnel.kind);
  const all = [...listTunnels(sameKind, { text, showsCovered: true, showsRestricted: true, status: 'all' })]
    .map((row) => ({ row, gapM: gapBetween(tunnel.bbox, row.bbox) }))
    .sort((a, b) => a.gapM - b.gapM);
  const offered = all.slice(0, OFFERED);
  const wanted = new Set([tunnel.id, ...offered.map(({ row }) => row.id)]);
  const linesOf = new Map<string, Bore[]>();
  for (const bore of bores) {
    const complexId = String(bore.properties?.complex);
    if (!wanted.has(complexId)) continue;
    linesOf.set(complexId, [...(linesOf.get(complexId) ?? []), toBore(bore as Feature<LineString>)]);
  }
  const own = linesOf.get(tunnel.id) ?? [];
  const candidates = offered
    .flatMap(({ row }) => {
      const nearest = findNearest(own, linesOf.get(row.id) ?? []);
      return nearest === undefined ? [] : [{ row, ...nearest }];
    })
    .sort((a, b) => a.distanceM - b.distanceM);
  return { candidates, farther: all.length - offered.length };
}

type Bore = { readonly ruler: Ruler; readonly wayId: number };

function toBore({ geometry, properties }: Feature<LineString>): Bore {
  const line = geometry.coordinates as unknown as LonLat[];
  const [wayId = 0] = (properties?.osmWays ?? []) as readonly number[];
  return { ruler: makeRuler(line), wayId };
}

/** Between the vertices of each line and the other line, both ways round. */
function findNearest(own: readonly Bore[], others: readonly Bore[]): Omit<JoinCandidate, 'row'> | undefined {
  let nearest: Omit<JoinCandidate, 'row'> | undefined;
  for (const one of own) {
    for (const other of others) {
      const distanceM = Math.min(gapTo(one.ruler, other.ruler), gapTo(other.ruler, one.ruler));
      if (nearest === undefined || distanceM < nearest.distanceM) {
        nearest = { distanceM, ways: [one.wayId, other.wayId] };
      }
    }
  }
  return nearest;
}

function gapTo(from: Ruler, to: Ruler): number {
  return Math.min(...from.line.map((at) => to.locate(at).distanceM));
}

/** Metres between two bounding boxes, 0 where they overlap. */
function gapBetween(a: BBox, b: BBox): number {
  const lon = Math.max(0, b[0] - a[2], a[0] - b[2]);
  const lat = Math.max(0, b[1] - a[3], a[1] - b[3]);
  const { east, north } = localDelta([a[0], a[1]], [a[0] + lon, a[1] + lat]);
  return Math.hypot(east, north);
}
